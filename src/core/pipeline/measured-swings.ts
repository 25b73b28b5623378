import type { MeasuredSwing } from '../measures/measured-swing.ts';
import type { SwingReading } from '../swings/read-swing.ts';
import { type ScoreBook, scoredSwing } from './score-book.ts';

/**
 * Swings as the measures take them: those with a reach that the coach has not discarded, in order, with points.
 * Where a ball landed is not recorded yet.
 */
export function measuredSwings(
  readings: readonly SwingReading[],
  scores: ScoreBook,
): MeasuredSwing[] {
  return readings.flatMap(({ swing, curves }) => {
    const { points, discarded } = scoredSwing(scores, swing);
    if (curves === null || discarded) return [];
    return [
      {
        ...curves,
        courtHeadingKnown: swing.courtHeadingKnown,
        durationS: (swing.contactTimeUs - swing.startTimeUs) / 1e6,
        contactSpeedMS: swing.sweetSpotSpeedMS,
        points,
        landingM: null,
      },
    ];
  });
}
