import { bcaInterval } from '../statistics/bootstrap-interval.ts';
import { type Estimate, isUnavailable, type Unavailable } from '../statistics/estimate.ts';
import { pitmanMorgan, type VarianceRatio } from '../statistics/pitman-morgan.ts';
import { rowsByGroup } from '../statistics/resampling.ts';
import { columnOf, type ReachTable } from './reach-table.ts';

/** How much of the widest spread is left at contact. */
export interface Narrowing {
  /** Spread at contact over the widest, both without the measurement floor; 0 when contact is within it. */
  readonly ratio: number;
  /** Row of the widest spread. */
  readonly widest: number;
  readonly interval: Estimate | Unavailable;
}

export interface ResamplingOptions {
  readonly seed: number;
  /** 2000 unless said. */
  readonly resamples?: number;
}

/**
 * Narrowing ratio, true spread at contact over its maximum, the maximum chosen anew in every resample.
 *   ratio = sqrt( max(0, s(100)^2 - f(100)^2) / max_tau (s(tau)^2 - f(tau)^2) )
 * with s the sample SD over swings and f the floor: independent errors add in squares. It is at most 1
 * by construction, and below 1 even where nothing narrows, since a maximum of noisy spreads is above
 * each of them: never a proof by itself, see {@link midToContact}.
 * In simulation the 95 % interval holds 91 % (n = 20) and 94 % (n = 40) of the time; where many instants are
 * about equally wide the ratio comes out up to 0.06 too small and the interval holds 89 to 91 %.
 * @param table n >= 10 for the interval
 * @returns 'no-spread' when no instant has a spread above its floor
 * Source: design.md section 9; interval: Efron 1987, see bcaInterval.
 * Checked: tests/measures/narrowing.test.ts, coverage too
 */
export function narrowingRatio(
  table: ReachTable,
  options: ResamplingOptions,
): Narrowing | Unavailable {
  const { n, points } = table;
  const variance = new Float64Array(points);
  const ratioOf = (rows: Int32Array): number | Unavailable => {
    trueVariances(table, rows, variance);
    const most = variance[widestOf(variance)]!;
    if (!(most > 0)) return { reason: 'no-spread' };
    return Math.sqrt(Math.max(0, variance[points - 1]!) / most);
  };
  const ratio = ratioOf(rowsByGroup([n])[0]!);
  if (isUnavailable(ratio)) return ratio;
  return { ratio, widest: widestOf(variance), interval: bcaInterval([n], ratioOf, options) };
}

/** Is the spread at contact smaller than at mid-swing? */
export interface MidToContact {
  /** Variance at mid-swing over variance at contact, as observed. */
  readonly ratio: VarianceRatio | Unavailable;
  /** What the ratio would be with equal true spreads: more than 1 where the floor falls. */
  readonly withoutNarrowing: number;
}

/**
 * Paired comparison of the spread at mid-swing and at contact. Mid-swing is fixed beforehand: testing the
 * widest instant against contact would find narrowing in anything.
 *   withoutNarrowing = max(1, 1 + (f(mid)^2 - f(100)^2) / s(100)^2)
 * @param mid deviations at mid-swing, metres, shape (n); the table's own unless something was taken out
 * Source: Pitman 1939, Morgan 1939, see pitmanMorgan.  Checked: tests/measures/narrowing.test.ts
 */
export function midToContact(table: ReachTable, mid = columnOf(table, table.mid)): MidToContact {
  const last = table.points - 1;
  const { spreadM, floorM } = table.funnel;
  const contactSquare = spreadM[last]! ** 2;
  const floorFalls = floorM[table.mid]! ** 2 - floorM[last]! ** 2;
  return {
    ratio: pitmanMorgan(mid, columnOf(table, last)),
    withoutNarrowing: contactSquare > 0 ? Math.max(1, 1 + floorFalls / contactSquare) : 1,
  };
}

function widestOf(variance: Float64Array): number {
  let widest = 0;
  for (let p = 1; p < variance.length; p++) if (variance[p]! > variance[widest]!) widest = p;
  return widest;
}

/** Variance of some swings at each instant, less the floor of the whole set. @param out shape (points) */
function trueVariances(table: ReachTable, rows: Int32Array, out: Float64Array): void {
  const { n, points, deviationM, funnel } = table;
  const m = rows.length;
  for (let p = 0; p < points; p++) {
    const start = p * n;
    // Deviations are centred already, so one pass loses no digits.
    let sum = 0;
    let squares = 0;
    for (let i = 0; i < m; i++) {
      const x = deviationM[start + rows[i]!]!;
      sum += x;
      squares += x * x;
    }
    out[p] = (squares - (sum * sum) / m) / (m - 1) - funnel.floorM[p]! ** 2;
  }
}
