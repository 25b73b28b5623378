import type { ScoredSwing } from '../../core/pipeline/outputs.ts';
import type { SetEvent } from '../../core/recording/set-record.ts';

/** One edit of a stored set: what is added to its file, and what would take it back. */
export interface SetEdit {
  readonly words: string;
  readonly events: readonly SetEvent[];
  readonly inverse: readonly SetEvent[];
}

/** Leaves a swing out of the measures. @param reason in the coach's words; empty: none given */
export function leaveOut({ swing }: ScoredSwing, reason: string): SetEdit {
  const { contactTimeUs } = swing;
  return {
    words: `swing ${swing.index + 1} left out`,
    events: [{ type: 'discarded', contactTimeUs, ...(reason === '' ? {} : { reason }) }],
    inverse: [{ type: 'discard-withdrawn', contactTimeUs }],
  };
}

/** Counts a swing again that had been left out. */
export function takeIn({ swing, discardReason }: ScoredSwing): SetEdit {
  const { contactTimeUs } = swing;
  const reason = discardReason === null ? {} : { reason: discardReason };
  return {
    words: `swing ${swing.index + 1} counted again`,
    events: [{ type: 'discard-withdrawn', contactTimeUs }],
    inverse: [{ type: 'discarded', contactTimeUs, ...reason }],
  };
}

/** Gives a swing other points. @param points null: none */
export function scoreAs({ swing, points: before }: ScoredSwing, points: number | null): SetEdit {
  const { contactTimeUs } = swing;
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
