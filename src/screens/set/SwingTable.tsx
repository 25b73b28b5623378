import type { ScoredSwing } from '../../core/pipeline/outputs.ts';
import type { SetDescription } from '../../core/recording/set-description.ts';
import { Mark } from '../controls/Mark.tsx';
import { centimetres, type Miss, missOf, missWords, voidWords } from '../court/swing-words.ts';

interface Props {
  readonly swings: readonly ScoredSwing[];
  readonly band: SetDescription['sweetSpotBand'];
}

/** Every swing of the set with its reach, its miss and its points. */
export function SwingTable({ swings, band }: Props) {
  if (swings.length === 0) return <p>No swing was found in this set.</p>;
  return (
    <table class="swing-table">
      <caption>{countWords(swings)}</caption>
      <thead>
        <tr>
          <th scope="col">Swing</th>
          <th scope="col">Reach</th>
          <th scope="col">Sweet spot</th>
          <th scope="col">Points</th>
        </tr>
      </thead>
      <tbody>
        {swings.map((scored) => (
          <Row key={scored.swing.contactTimeUs} scored={scored} band={band} />
        ))}
      </tbody>
    </table>
  );
}

function Row({ scored, band }: { readonly scored: ScoredSwing; readonly band: Props['band'] }) {
  const { swing, points, discarded } = scored;
  const miss = missOf(swing.reachM, band);
  const said = discarded ? 'discarded' : points === null ? 'none' : points;
  return (
    <tr class={discarded ? 'row-discarded' : ''}>
      <th scope="row">{swing.index + 1}</th>
      {swing.voidReason === null ? (
        <>
          <td>
            {centimetres(swing.reachM)} cm
            <small> ± {centimetres(swing.reachStandardErrorM)}</small>
          </td>
          <td>
            <Mark kind={markOf(miss)} sizePx={14} hollow={discarded} /> {missWords(miss)}
          </td>
        </>
      ) : (
        <td colSpan={2}>
          <Mark kind="void" sizePx={14} /> {voidWords(swing.voidReason)}
        </td>
      )}
      <td>{said}</td>
    </tr>
  );
}

function markOf({ side }: Miss): 'in' | 'off' | 'unknown' {
  return side === 'short' || side === 'long' ? 'off' : side;
}

function countWords(swings: readonly ScoredSwing[]): string {
  const withReach = swings.filter(
    ({ swing, discarded }) => swing.voidReason === null && !discarded,
  ).length;
  const scored = swings.filter(({ points, discarded }) => points !== null && !discarded).length;
  return `${swings.length} swings, ${withReach} with a reach, ${scored} scored. ± is one standard error.`;
}
