import type { ScoredSwing } from '../../core/pipeline/outputs.ts';
import type { SwingTrace } from '../../core/pipeline/swing-trace.ts';
import type { SetEvent } from '../../core/recording/set-record.ts';
import type { SwingEnds } from '../../core/swings/moved-ends.ts';

/** One edit of a stored set: what is added to its file, and what would take it back. */
export interface SetEdit {
  readonly words: string;
  readonly events: readonly SetEvent[];
  readonly inverse: readonly SetEvent[];
}

/** Leaves a swing out of the measures. @param reason in the coach's words; empty: none given */
export function leaveOut({ swing, foundContactUs }: ScoredSwing, reason: string): SetEdit {
  const contactTimeUs = foundContactUs;
  return {
    words: `swing ${swing.index + 1} left out`,
    events: [{ type: 'discarded', contactTimeUs, ...(reason === '' ? {} : { reason }) }],
    inverse: [{ type: 'discard-withdrawn', contactTimeUs }],
  };
}

/** Counts a swing again that had been left out. */
export function takeIn({ swing, foundContactUs, discardReason }: ScoredSwing): SetEdit {
  const contactTimeUs = foundContactUs;
  const reason = discardReason === null ? {} : { reason: discardReason };
  return {
    words: `swing ${swing.index + 1} counted again`,
    events: [{ type: 'discard-withdrawn', contactTimeUs }],
    inverse: [{ type: 'discarded', contactTimeUs, ...reason }],
  };
}

/** Gives a swing other points. @param points null: none */
export function scoreAs(
  { swing, foundContactUs, points: before }: ScoredSwing,
  points: number | null,
): SetEdit {
  const contactTimeUs = foundContactUs;
  const event = (value: number | null): SetEvent =>
    value === null
      ? { type: 'score-withdrawn', contactTimeUs }
      : { type: 'score', contactTimeUs, points: value };
  return {
    words: `swing ${swing.index + 1} scored ${points === null ? 'not at all' : points}`,
    events: [event(points)],
    inverse: [event(before)],
  };
}

/** Puts start and contact of a swing elsewhere. @param to null: back to where they were found */
export function moveEnds(
  { swing, foundContactUs, endsMoved }: ScoredSwing,
  { ends }: Pick<SwingTrace, 'ends'>,
  to: SwingEnds | null,
): SetEdit {
  const event = (wanted: SwingEnds | null): SetEvent =>
    wanted === null
      ? { type: 'ends-restored', contactTimeUs: foundContactUs }
      : {
          type: 'ends-moved',
          contactTimeUs: foundContactUs,
          startsAtUs: wanted.startUs,
          endsAtUs: wanted.contactUs,
        };
  const name = `swing ${swing.index + 1}`;
  return {
    words: to === null ? `${name} as it was found` : `start and contact of ${name} moved`,
    events: [event(to)],
    inverse: [event(endsMoved ? ends : null)],
  };
}
