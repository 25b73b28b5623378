import type { MeasuredSwing } from '../measures/measured-swing.ts';
import type { SwingReading } from '../swings/read-swing.ts';
import type { ScoredSwing } from './outputs.ts';

/**
 * Swings as the measures take them: those with a reach that the coach has not discarded, in order, with points and where
 * the ball landed.
 * @param scored what the coach said of each reading, in the same order
 * @param blocks those of one condition
 */
export function measuredSwings(
  readings: readonly SwingReading[],
  scored: readonly ScoredSwing[],
  blocks: ReadonlySet<number>,
): MeasuredSwing[] {
  return readings.flatMap(({ swing, curves }, i) => {
    const { points, landingM, discarded, block } = scored[i]!;
    if (curves === null || discarded || !blocks.has(block)) return [];
    return [
      {
        ...curves,
        courtHeadingKnown: swing.courtHeadingKnown,
        durationS: (swing.contactTimeUs - swing.startTimeUs) / 1e6,
        contactSpeedMS: swing.sweetSpotSpeedMS,
        points,
        landingM,
      },
    ];
  });
}
