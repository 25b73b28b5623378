import { useEffect, useMemo, useState } from 'preact/hooks';
import { hashOf } from '../route.ts';
import { createStartModel } from '../start/start-model.ts';
import type { WorkerClient } from '../worker-client.ts';
import { playersOf } from './players-of.ts';

/** More than this are shown on demand. */
const SHOWN_FIRST = 20;

/** Whose sets are compared. */
export function PlayerChoice({ client }: { readonly client: WorkerClient }) {
  const model = useMemo(() => createStartModel(client), [client]);
  useEffect(() => model.dispose, [model]);
  const sets = model.sets.value;
  const players = useMemo(() => playersOf(sets ?? []), [sets]);
  const [wanted, setWanted] = useState('');
  const [isAll, setAll] = useState(false);
  if (sets === null) return <p class="soft">Looking…</p>;
  if (players.length === 0) return <p>No set is stored on this device yet.</p>;
  const found = players.filter(({ player }) => player.toLowerCase().includes(wanted.toLowerCase()));
  const shown = isAll ? found : found.slice(0, SHOWN_FIRST);
  return (
    <section class="side-players" aria-label="Players">
      {players.length > 8 && (
        <label class="field">
          <span>Player</span>
          <input
            type="search"
            value={wanted}
            onInput={(event) => setWanted(event.currentTarget.value)}
          />
        </label>
      )}
      <ul>
        {shown.map(({ player, sets: count }) => (
          <li key={player}>
            <a class="button" href={hashOf({ screen: 'side-by-side', player })}>
              <b>{player}</b>
              <span class="soft">{count === 1 ? '1 set' : `${count} sets`}</span>
            </a>
          </li>
        ))}
      </ul>
      {found.length === 0 && <p role="status">No player of that name.</p>}
      {found.length > shown.length && (
        <button type="button" onClick={() => setAll(true)}>
          Show all {found.length}
        </button>
      )}
    </section>
  );
}
