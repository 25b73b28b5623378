import type { Unavailable } from '../statistics/estimate.ts';
import { SWING_POINTS } from '../swings/swing.ts';
import { type Funnel, funnelOfCurves, type ReachCurve } from './funnel.ts';
import {
  BEFORE_CONTACT_ROWS,
  BEFORE_CONTACT_STEP_S,
  type MeasuredSwing,
} from './measured-swing.ts';
import { MEASURES } from './thresholds.ts';

/** Reach of a set at common instants, of which the last is contact. */
export interface ReachTable {
  readonly n: number;
  /** Instants. */
  readonly points: number;
  /** Row of mid-swing, fixed without looking at the spread. */
  readonly mid: number;
  /** Reach minus its mean over the swings, metres, shape (points, n): the swings of an instant side by side. */
  readonly deviationM: Float64Array;
  /** Mean, spread and measurement floor at each instant. */
  readonly funnel: Funnel;
}

/** Reach at 0..100 % of the swing. @param swings at least two */
export function reachInPercent(swings: readonly MeasuredSwing[]): ReachTable {
  return tableOf(swings, SWING_POINTS, MEASURES.funnel.limits.midSwingPercent);
}

/** A reach table that counts time in seconds. */
export interface TimedReachTable extends ReachTable {
  /** Seconds before contact of each row, falling to 0, shape (points). */
  readonly beforeContactS: Float64Array;
}

/**
 * Reach in the last 300 ms before contact, as far back as all swings have data. Mid-swing lies half the
 * mean duration before contact, or at the first row if that is later.
 * The noise is read from the curve over normalised time, each swing at its own share.
 * @param swings at least two
 * @returns 'not-finite' when some swing has no data at mid-swing, or no duration
 * Source: design.md section 9.  Checked: tests/measures/reach-table.test.ts
 */
export function reachBeforeContact(
  swings: readonly MeasuredSwing[],
): TimedReachTable | Unavailable {
  const last = BEFORE_CONTACT_ROWS - 1;
  const halfS = swings.reduce((sum, swing) => sum + swing.durationS, 0) / (2 * swings.length);
  const mid = Math.max(0, last - Math.round(halfS / BEFORE_CONTACT_STEP_S));
  const first = Math.max(...swings.map((swing) => firstWithData(swing.reachBeforeContactM)));
  // Also when a duration is not a number.
  if (!(first <= mid && mid < last)) return { reason: 'not-finite', index: mid };
  const points = BEFORE_CONTACT_ROWS - first;
  const beforeContactS = Float64Array.from(
    { length: points },
    (_, row) => (points - 1 - row) * BEFORE_CONTACT_STEP_S,
  );
  const curves = swings.map((swing) => ({
    reachCurveM: swing.reachBeforeContactM.subarray(first),
    reachCurveNoiseM: beforeContactS.map((s) => noiseAt(swing, 1 - s / swing.durationS)),
  }));
  return { ...tableOf(curves, points, mid - first), beforeContactS };
}

/** One instant of all swings, shape (n): a window on the table, not a copy. */
export function columnOf(table: ReachTable, point: number): Float64Array {
  return table.deviationM.subarray(point * table.n, (point + 1) * table.n);
}

function tableOf(curves: readonly ReachCurve[], points: number, mid: number): ReachTable {
  const n = curves.length;
  const funnel = funnelOfCurves(curves, points);
  const deviationM = new Float64Array(points * n);
  for (let p = 0; p < points; p++)
    for (let i = 0; i < n; i++)
      deviationM[p * n + i] = curves[i]!.reachCurveM[p]! - funnel.meanM[p]!;
  return { n, points, mid, deviationM, funnel };
}

function firstWithData(column: Float64Array): number {
  let first = column.length;
  while (first > 0 && Number.isFinite(column[first - 1])) first--;
  return first;
}

function noiseAt(swing: MeasuredSwing, share: number): number {
  return swing.reachCurveNoiseM[Math.round(Math.max(0, share) * (SWING_POINTS - 1))]!;
}
