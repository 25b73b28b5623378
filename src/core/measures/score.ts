import type { Estimate, Unavailable } from '../statistics/estimate.ts';
import { variedMean } from '../statistics/mean-interval.ts';
import { wilsonInterval } from '../statistics/wilson-interval.ts';
import type { AccuracyClasses } from './accuracy-classes.ts';
import { type LandingError, landingError } from './landing-error.ts';
import type { MeasuredSwing } from './measured-swing.ts';

/** How well the balls went. */
export interface Score {
  /** Scored swings. */
  readonly n: number;
  /** Mean points; 'no-spread' when all score alike, where the hit rate still says how sure that is. */
  readonly mean: Estimate | Unavailable;
  /** Share of accurate balls, Wilson's interval. */
  readonly hitRate: Estimate | Unavailable;
  /** Of the swings whose landing point was tapped, scored or not. */
  readonly landing: LandingError | Unavailable;
}

/**
 * Score of a set.
 * @param classes of these swings
 * Source: design.md section 9.  Checked: tests/measures/score.test.ts
 */
export function scoreOfSet(
  swings: readonly Pick<MeasuredSwing, 'landingM'>[],
  { rows, points }: AccuracyClasses,
): Score {
  return {
    n: points.length,
    mean: variedMean(points),
    hitRate: wilsonInterval(rows.accurate.length, points.length),
    landing: landingError(swings),
  };
}
