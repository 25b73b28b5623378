import { type Estimate, isUnavailable, type Unavailable } from '../statistics/estimate.ts';
import { variedMean } from '../statistics/mean-interval.ts';
import { checkedSd } from '../statistics/moments.ts';
import { takeRows } from '../statistics/resampling.ts';
import { spreadInterval } from '../statistics/spread-interval.ts';
import type { MeasuredSwing } from './measured-swing.ts';
import { columnOf, type ReachTable } from './reach-table.ts';

/** Mean and spread of reach at contact over the swings of a set, metres. */
export interface ReachAtContact {
  readonly n: number;
  readonly meanM: Estimate | Unavailable;
  /** Sample SD as observed, the measurement floor in it. */
  readonly spreadM: Estimate | Unavailable;
}

/**
 * Mean reach at contact with Student's interval, and its spread with that of the jackknife of the logarithm.
 * @param swings at least two for the mean, three for the spread
 * Source: design.md section 9; Miller 1968, see spreadInterval.
 * Checked: tests/measures/reach-at-contact.test.ts; coverage: tests/measures/coverage-cases.ts
 */
export function reachAtContact(swings: readonly MeasuredSwing[]): ReachAtContact {
  const reachM = contactReach(swings);
  return { n: swings.length, meanM: variedMean(reachM), spreadM: spreadInterval(reachM) };
}

/** 95 % interval of the funnel at each instant, metres, shape (points); NaN where reach has no spread. */
export interface FunnelBand {
  readonly lowM: Float64Array;
  readonly highM: Float64Array;
}

/**
 * Pointwise interval of the spread of reach, by the jackknife of the logarithm.
 * @param table at least three swings
 * Source, Checked: as reachAtContact.
 */
export function funnelBand(table: ReachTable): FunnelBand {
  const lowM = new Float64Array(table.points).fill(Number.NaN);
  const highM = lowM.slice();
  for (let p = 0; p < table.points; p++) {
    const spread = spreadInterval(columnOf(table, p));
    if (isUnavailable(spread)) continue;
    lowM[p] = spread.low;
    highM[p] = spread.high;
  }
  return { lowM, highM };
}

/** Reach at contact of each swing, metres. */
export function contactReach(swings: readonly MeasuredSwing[]): Float64Array {
  return Float64Array.from(swings, ({ reachCurveM }) => reachCurveM.at(-1)!);
}

/** Below this SD (metres) reach does not vary: rounding. */
const ROUNDING_M = 1e-9;

/**
 * SD of reach of some swings over that of others. @param reachM of all, metres
 * @returns 'no-spread' when the reach of either does not vary
 */
export function spreadRatio(
  reachM: Float64Array,
  a: Int32Array,
  b: Int32Array,
): number | Unavailable {
  const [first, second] = [checkedSd(takeRows(reachM, a)), checkedSd(takeRows(reachM, b))];
  return first > ROUNDING_M && second > ROUNDING_M ? first / second : { reason: 'no-spread' };
}
