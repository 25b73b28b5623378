import { Fragment } from 'preact';
import { useState } from 'preact/hooks';
import type { ScoredSwing } from '../../core/pipeline/outputs.ts';
import type { Condition } from '../../core/recording/set-record.ts';
import { Mark } from '../controls/Mark.tsx';
import { centimetres, missOf, missWords, voidWords } from '../court/swing-words.ts';
import type { OpenSwing } from './reading-model.ts';
import { SwingDetail } from './SwingDetail.tsx';
import type { SetEdit } from './set-edits.ts';

interface Props {
  readonly swings: readonly ScoredSwing[];
  readonly band: Condition['sweetSpotBand'];
  readonly scoreSteps: readonly number[];
  readonly isEditing: boolean;
  readonly openSwing: OpenSwing | null;
  /** By place in the set; null: at none. */
  readonly onLookAt: (index: number | null) => void;
  readonly onEdit: (edit: SetEdit) => void;
}

/** Thousands of rows would take seconds to draw. */
const FIRST_SHOWN = 100;

/** Every swing of the set with its reach, its miss and its points; one at a time can be looked at and corrected. */
export function SwingTable(props: Props) {
  const { swings, band, scoreSteps, isEditing, openSwing, onLookAt, onEdit } = props;
  const [showsAll, setShowsAll] = useState(false);
  if (swings.length === 0) return <p>No swing was found in this set.</p>;
  const shown = showsAll ? swings : swings.slice(0, FIRST_SHOWN);
  return (
    <section aria-labelledby="swings-title">
      <h2 id="swings-title">Swings</h2>
      <table class="swing-table">
        <caption>
          {countWords(swings)} {targetWords(band)}
        </caption>
        <thead>
          <tr>
            <th scope="col">Swing</th>
            <th scope="col">Reach, cm</th>
            <th scope="col">Target reach</th>
            <th scope="col">Points</th>
            <th scope="col">
              <span class="out-of-sight">Look at it</span>
            </th>
          </tr>
        </thead>
        <tbody>
          {shown.map((scored) => {
            const { index } = scored.swing;
            const isOpen = index === openSwing?.index;
            return (
              <Fragment key={index}>
                <Row
                  scored={scored}
                  band={band}
                  isOpen={isOpen}
                  onOpen={() => onLookAt(isOpen ? null : index)}
                />
                {isOpen && (
                  <tr>
                    <td colSpan={5}>
                      <SwingDetail
                        scored={scored}
                        trace={openSwing?.trace}
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
      {shown.length < swings.length && (
        <button type="button" onClick={() => setShowsAll(true)}>
          Show all {swings.length} swings
        </button>
      )}
    </section>
  );
}

interface RowProps {
  readonly scored: ScoredSwing;
  readonly band: Props['band'];
  readonly isOpen: boolean;
  readonly onOpen: () => void;
}

function Row({ scored, band, isOpen, onOpen }: RowProps) {
  const { swing, points, discarded, discardReason, endsMoved } = scored;
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
          <td>{offTargetWords(swing.reachM, band)}</td>
        </>
      ) : (
        <td colSpan={2}>
          <Mark kind="void" sizePx={14} /> {voidWords(swing.voidReason)}
        </td>
      )}
      <td class="swing-points">
        {said}
        {endsMoved && <small> ends moved</small>}
        {discardReason !== null && <small> {discardReason}</small>}
      </td>
      <td>
        <button
          type="button"
          class="row-correct"
          aria-expanded={isOpen}
          aria-label={`Open swing ${swing.index + 1}`}
          onClick={onOpen}
        >
          {isOpen ? '−' : '+'}
        </button>
      </td>
    </tr>
  );
}

/** As short as the column's head allows. */
function offTargetWords(reachM: number, band: Props['band']): string {
  const miss = missOf(reachM, band);
  if (miss.side === 'unknown') return '–';
  return miss.side === 'in' ? 'within' : missWords(miss);
}

/** A target reach is hoped for, not measured: a ball in it may well have missed. */
function targetWords(band: Props['band']): string {
  return band === null
    ? 'No target reach was planned.'
    : `Target reach is what was hoped for when the set was planned, ${centimetres(band.reachM)} ± ${centimetres(band.halfWidthM)} cm; it says nothing of where the ball went.`;
}

function countWords(swings: readonly ScoredSwing[]): string {
  const withReach = swings.filter(
    ({ swing, discarded }) => swing.voidReason === null && !discarded,
  ).length;
  const scored = swings.filter(({ points, discarded }) => points !== null && !discarded).length;
  return `${swings.length} swings, ${withReach} with a reach, ${scored} scored. ± is one standard error.`;
}
