import { useState } from 'preact/hooks';
import { hashOf } from '../route.ts';
import { SetLine } from './SetLine.tsx';
import type { StartModel } from './start-model.ts';

/** More than this are shown on demand. */
const SHOWN_FIRST = 20;

type Sets = NonNullable<StartModel['sets']['value']>;

/** Stored sets, newest first: each opens, and can be saved as a file. */
export function SetList({ model }: { readonly model: StartModel }) {
  const sets = model.sets.value;
  return (
    <section class="sets">
      <h2>Recent sets</h2>
      {sets === null && <p class="soft">Looking…</p>}
      {sets?.length === 0 && (
        <p class="soft">None yet. Sets stay on this device and go nowhere else.</p>
      )}
      {sets !== null && sets.length > 0 && <FilteredSets sets={sets} onSave={model.save} />}
      <nav class="sets-more">
        {sets !== null && sets.length > 0 && (
          <>
            <a class="button" href={hashOf({ screen: 'side-by-side', player: null })}>
              Side by side
            </a>
            <a class="button" href={hashOf({ screen: 'progress', player: null })}>
              Progress
            </a>
          </>
        )}
        <a class="button" href={hashOf({ screen: 'kit' })}>
          Kit
        </a>
        <a class="button" href={hashOf({ screen: 'storage' })}>
          Storage
        </a>
        <a class="button" href={hashOf({ screen: 'import' })}>
          Table from other sensors
        </a>
      </nav>
    </section>
  );
}

interface Props {
  readonly sets: Sets;
  readonly onSave: (setId: string) => void;
}

/** The newest ones of the player that is asked for. */
function FilteredSets({ sets, onSave }: Props) {
  const [wanted, setWanted] = useState('');
  const [isAll, setAll] = useState(false);
  const found = sets.filter(({ player }) => player.toLowerCase().includes(wanted.toLowerCase()));
  const shown = isAll ? found : found.slice(0, SHOWN_FIRST);
  return (
    <>
      {sets.length > SHOWN_FIRST && (
        <label class="field">
          <span>Only sets of the player</span>
          <input
            type="search"
            value={wanted}
            autocomplete="off"
            onInput={(event) => setWanted(event.currentTarget.value)}
          />
        </label>
      )}
      <ul>
        {shown.map((set) => (
          <SetLine key={set.setId} set={set} onSave={onSave} />
        ))}
      </ul>
      {found.length === 0 && (
        <p class="soft" role="status">
          No player of that name.
        </p>
      )}
      {found.length > shown.length && (
        <button type="button" onClick={() => setAll(true)}>
          Show all {found.length}
        </button>
      )}
    </>
  );
}
