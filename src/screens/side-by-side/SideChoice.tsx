import { Tick } from '../controls/Tick.tsx';
import { type Comparable, type Letter, swingsIn } from './comparable.ts';
import type { ComparedPair } from './compared-pair.ts';
import { LetterBadge } from './LetterBadge.tsx';
import type { SideBySideModel } from './side-by-side-model.ts';

interface Props {
  readonly letter: Letter;
  readonly pair: ComparedPair;
  readonly comparable: readonly Comparable[];
  readonly model: SideBySideModel;
}

/** One side: which condition, and which of its sets. */
export function SideChoice({ letter, pair, comparable, model }: Props) {
  const { comparable: chosen, group, kit } = pair.kits[letter];
  const swings = swingsIn(chosen, group);
  return (
    <section class={`side side-${letter.toLowerCase()}`} aria-label={`Side ${letter}`}>
      <h2>
        <LetterBadge letter={letter} />
        <small>{kit} kit</small>
      </h2>
      {/* A list box cuts long names off; this one lies unseen over the name, which wraps. */}
      <div class="side-kit-choice">
        <p aria-hidden="true">
          <b>{chosen.implement}</b>
          <span>
            {chosen.ball}
            {chosen.feed === '' ? '' : `, ${chosen.feed}`}
          </span>
        </p>
        <label>
          <span class="out-of-sight">Condition of {letter}</span>
          <select
            value={chosen.key}
            onChange={(event) => model.choose(letter, event.currentTarget.value)}
          >
            {comparable.map((one) => (
              <option key={one.key} value={one.key}>
                {namesOf(one)}
              </option>
            ))}
          </select>
        </label>
      </div>
      <details class="side-more">
        <summary>
          {swingWords(swings)}, {group.setIds.length} of {chosen.sets.length}{' '}
          {chosen.sets.length === 1 ? 'set' : 'sets'}
        </summary>
        <div class="side-sets">
          {chosen.sets.map(({ setId, startedAtMs, swings: count }) => (
            <Tick
              key={setId}
              label={startWords(startedAtMs)}
              hint={swingWords(count)}
              isTicked={group.setIds.includes(setId)}
              onChange={() => model.toggleSet(letter, setId)}
            />
          ))}
        </div>
      </details>
    </section>
  );
}

function namesOf({ implement, ball, feed }: Comparable): string {
  return [implement, ball, feed].filter((word) => word !== '').join(', ');
}

function swingWords(swings: number): string {
  return swings === 1 ? '1 swing' : `${swings} swings`;
}

function startWords(startedAtMs: number): string {
  return new Date(startedAtMs).toLocaleString(undefined, {
    dateStyle: 'medium',
    timeStyle: 'short',
  });
}
