import { Fragment } from 'preact';
import { useState } from 'preact/hooks';
import type { ScoredSwing } from '../../core/pipeline/outputs.ts';
import type { SetDescription } from '../../core/recording/set-description.ts';
import { Mark } from '../controls/Mark.tsx';
import { centimetres, type Miss, missOf, missWords, voidWords } from '../court/swing-words.ts';
import { SwingEditor } from './SwingEditor.tsx';
import type { SetEdit } from './set-edits.ts';

interface Props {
  readonly swings: readonly ScoredSwing[];
  readonly band: SetDescription['sweetSpotBand'];
  readonly scoreSteps: readonly number[];
  readonly isEditing: boolean;
  readonly onEdit: (edit: SetEdit) => void;
}

/** Every swing of the set with its reach, its miss and its points; one at a time can be corrected. */
export function SwingTable({ swings, band, scoreSteps, isEditing, onEdit }: Props) {
  const [editedUs, setEditedUs] = useState<number | null>(null);
  if (swings.length === 0) return <p>No swing was found in this set.</p>;
  return (
    <table class="swing-table">
      <caption>{countWords(swings)}</caption>
      <thead>
        <tr>
          <th scope="col">Swing</th>
          <th scope="col">Reach, cm</th>
          <th scope="col">Sweet spot</th>
          <th scope="col">Points</th>
          <th scope="col">
            <span class="out-of-sight">Correct</span>
          </th>
        </tr>
      </thead>
      <tbody>
        {swings.map((scored) => {
          const { contactTimeUs } = scored.swing;
          const isOpen = contactTimeUs === editedUs;
          return (
            <Fragment key={contactTimeUs}>
              <Row
                scored={scored}
                band={band}
                isOpen={isOpen}
                onOpen={() => setEditedUs(isOpen ? null : contactTimeUs)}
              />
              {isOpen && (
                <tr>
                  <td colSpan={5}>
                    <SwingEditor
                      scored={scored}
                      scoreSteps={scoreSteps}
                      isEditing={isEditing}
                      onEdit={onEdit}
                    />
                  </td>
                </tr>
              )}
            </Fragment>
          );
        })}
      </tbody>
    </table>
  );
}

interface RowProps {
  readonly scored: ScoredSwing;
  readonly band: Props['band'];
  readonly isOpen: boolean;
  readonly onOpen: () => void;
}

function Row({ scored, band, isOpen, onOpen }: RowProps) {
  const { swing, points, discarded, discardReason } = scored;
  const miss = missOf(swing.reachM, band);
  const said = discarded ? 'left out' : points === null ? 'none' : points;
  return (
    <tr class={discarded ? 'row-discarded' : ''}>
      <th scope="row">{swing.index + 1}</th>
      {swing.voidReason === null ? (
        <>
          <td class="swing-reach">
            {centimetres(swing.reachM)}
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
      <td class="swing-points">
        {said}
        {discardReason !== null && <small> {discardReason}</small>}
      </td>
      <td>
        <button
          type="button"
          class="row-correct"
          aria-expanded={isOpen}
          aria-label={`Correct swing ${swing.index + 1}`}
          onClick={onOpen}
        >
          {isOpen ? '−' : '+'}
        </button>
      </td>
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
