import { ARM_ROW, GRID_STEP_US } from '../arm/arm-timeline.ts';
import { quaternionAngle } from '../maths/quaternion.ts';
import { LEAD, LONGEST_EXTRAPOLATION_US, type SwingCut } from './swing-cut.ts';

/** Start and contact of a swing, host time in microseconds. */
export interface SwingEnds {
  readonly startUs: number;
  readonly contactUs: number;
}

/** A swing has at least so many instants, or its curve could not be read. */
const LEAST_INSTANTS = 8;

/**
 * How far the ends of a swing can be moved: where its cut has data.
 * @returns null when the cut has none, or too little
 */
export function endsRange(cut: SwingCut): { firstUs: number; lastUs: number } | null {
  const rows = cut.q.length / ARM_ROW;
  if (rows < LEAD + LEAST_INSTANTS) return null;
  return {
    firstUs: cut.firstUs + LEAD * GRID_STEP_US,
    lastUs: cut.firstUs + (rows - 1) * GRID_STEP_US + LONGEST_EXTRAPOLATION_US,
  };
}

/**
 * A cut between other ends, as far as its data reach: beyond them the nearest that can be read. Contact by hand has the
 * error of half a sampling interval at 200 Hz each way.
 * @returns a new cut; the same when nothing can be moved
 * Checked: tests/swings/moved-ends.test.ts
 */
export function withEnds(cut: SwingCut, { startUs, contactUs }: SwingEnds): SwingCut {
  const range = endsRange(cut);
  if (range === null || cut.fault === 'air-swing') return cut;
  const shortestUs = LEAST_INSTANTS * GRID_STEP_US;
  const contact = clamp(contactUs, range.firstUs + shortestUs, range.lastUs);
  const start = clamp(startUs, range.firstUs, contact - shortestUs);
  const rowOf = (timeUs: number) => Math.floor((timeUs - cut.firstUs) / GRID_STEP_US);
  const q = cut.q.subarray(0, ARM_ROW * (rowOf(contact) + 1));
  const rates = implementRates(q, rowOf(start));
  return {
    ...cut,
    fault: null,
    contact: { timeUs: contact, standardErrorUs: GRID_STEP_US / Math.sqrt(12) },
    startUs: start,
    q,
    peakImplementRateRadS: Math.max(...rates),
    contactImplementRateRadS: rates.at(-1)!,
  };
}

/** Speed of turning of the implement from one row to the next, rad/s. */
function implementRates(q: Float64Array, firstRow: number): number[] {
  const rates: number[] = [];
  for (let at = ARM_ROW * firstRow + 8; at + ARM_ROW < q.length; at += ARM_ROW) {
    const next = at + ARM_ROW;
    const angle = quaternionAngle(q.subarray(at, at + 4), q.subarray(next, next + 4));
    rates.push(angle / (GRID_STEP_US * 1e-6));
  }
  return rates;
}

function clamp(value: number, least: number, most: number): number {
  return Math.min(most, Math.max(least, value));
}
