import type { Unavailable } from '../statistics/estimate.ts';
import type { RowStatistic } from '../statistics/resampling.ts';
import type { ReachTable } from './reach-table.ts';

/** A variance of reach below that of a nanometre is rounding, square metres. */
const ROUNDING_M2 = 1e-18;

/** One swing's reach less the mean of its set, and the square of the set's floor, at each instant. */
export interface ReachDeviation {
  /** Metres, or shares of a unit, shape (points). */
  readonly deviation: Float64Array;
  readonly floorSquare: Float64Array;
}

/**
 * The swings of a table one by one, so that those of two sets can be rearranged.
 * @param unitM what counts as 1, metres
 */
export function reachDeviations(
  { n, points, deviationM, funnel }: ReachTable,
  unitM = 1,
): ReachDeviation[] {
  const floorSquare = funnel.floorM.map((floor) => (floor / unitM) ** 2);
  return Array.from({ length: n }, (_, i) => ({
    deviation: Float64Array.from({ length: points }, (_, p) => deviationM[p * n + i]! / unitM),
    floorSquare,
  }));
}

/** Variance of reach at an instant as observed, and the part of it that is measurement. */
interface Spread {
  readonly square: number;
  readonly floorSquare: number;
}

/** Spread at contact and at the instant where it is widest once the floor is off. */
export interface ContactToWidest {
  readonly contact: Spread;
  readonly widest: Spread;
  /** Of the widest instant. */
  readonly row: number;
}

/** Compares contact with the widest instant of some swings, repeats allowed. @param rows at least two */
export function contactToWidest(
  swings: readonly ReachDeviation[],
  rows: Int32Array,
): ContactToWidest {
  const n = rows.length;
  const points = swings[0]!.deviation.length;
  const sums = new Float64Array(points);
  const squares = new Float64Array(points);
  // Swings of one set share their floor.
  const floors = new Map<Float64Array, number>();
  // Ten million times per set: swing by swing along its own numbers. They are centred already, so one pass loses no digits.
  for (let i = 0; i < n; i++) {
    const { deviation, floorSquare } = swings[rows[i]!]!;
    floors.set(floorSquare, (floors.get(floorSquare) ?? 0) + 1);
    for (let p = 0; p < points; p++) {
      const x = deviation[p]!;
      sums[p]! += x;
      squares[p]! += x * x;
    }
  }
  const floor = meanFloor(floors, n);
  const squareAt = (p: number) => (squares[p]! - (sums[p]! * sums[p]!) / n) / (n - 1);
  let row = 0;
  let most = squareAt(0) - floor[0]!;
  for (let p = 1; p < points; p++) {
    const here = squareAt(p) - floor[p]!;
    if (here > most) {
      most = here;
      row = p;
    }
  }
  const spreadAt = (p: number): Spread => ({ square: squareAt(p), floorSquare: floor[p]! });
  return { contact: spreadAt(points - 1), widest: spreadAt(row), row };
}

/** Squares of the floors of all swings, averaged. @param floors how many of the n swings have each */
function meanFloor(floors: ReadonlyMap<Float64Array, number>, n: number): Float64Array {
  const [first, ...others] = floors.keys();
  if (others.length === 0) return first!;
  const mean = new Float64Array(first!.length);
  for (const [floor, count] of floors) {
    for (let p = 0; p < mean.length; p++) mean[p] = mean[p]! + (count / n) * floor[p]!;
  }
  return mean;
}

/** SD at contact over the widest, the floor taken off both in squares; 0 when contact is within it. */
export function trueRatio({ contact, widest }: ContactToWidest): number | Unavailable {
  const most = widest.square - widest.floorSquare;
  if (!(most > ROUNDING_M2)) return { reason: 'no-spread' };
  return Math.sqrt(Math.max(0, contact.square - contact.floorSquare) / most);
}

/** The same with the floor left on: a statistic of rows, for resampling; the widest is that with the floor off. */
export function observedRatio(swings: readonly ReachDeviation[]): RowStatistic {
  return (rows) => {
    const { contact, widest } = contactToWidest(swings, rows!);
    return Math.sqrt(contact.square / widest.square);
  };
}
