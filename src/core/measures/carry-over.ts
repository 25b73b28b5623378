import { type Correlation, correlation } from '../statistics/correlation.ts';
import { isUnavailable, type Unavailable } from '../statistics/estimate.ts';
import { columnOf, type ReachTable } from './reach-table.ts';

/** How much of an early deviation is still there at contact. */
export interface CarryOver {
  /** corr(r(tau), r(contact)) and the ends of its 95 % interval, shape (points); NaN where reach has no spread. */
  readonly value: Float64Array;
  readonly low: Float64Array;
  readonly high: Float64Array;
  /** The same from mid-swing to contact. */
  readonly fromMid: Correlation | Unavailable;
}

/**
 * Carry-over curve: correlation over swings of the reach at each instant with the reach at contact. A
 * pre-programmed swing carries its early deviation to contact (near 1, or near -1 where the geometry
 * turns it round), a controlled one does not. Noise common to a whole swing adds to it.
 * @param table n >= 4
 * Source: design.md section 9; intervals: Fisher 1921, see correlation.
 * Checked: tests/measures/carry-over.test.ts
 */
export function carryOverCurve(table: ReachTable): CarryOver {
  const { points } = table;
  const column = () => new Float64Array(points).fill(Number.NaN);
  const curve = { value: column(), low: column(), high: column() };
  const contact = columnOf(table, points - 1);
  let fromMid: Correlation | Unavailable = { reason: 'no-spread' };
  for (let p = 0; p < points; p++) {
    const at = correlation(columnOf(table, p), contact);
    if (p === table.mid) fromMid = at;
    if (isUnavailable(at)) continue;
    curve.value[p] = at.value;
    curve.low[p] = at.low;
    curve.high[p] = at.high;
  }
  return { ...curve, fromMid };
}
