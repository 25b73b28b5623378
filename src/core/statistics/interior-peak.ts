import { type Random, seededRandom } from '../maths/random.ts';
import { dataFault, type Unavailable } from './estimate.ts';
import { checkedMean } from './moments.ts';
import type { PermutationOptions } from './permutation-test.ts';

/** Does y rise and then fall again with growing x? p values by permutation. */
export interface InteriorPeak {
  /** That y goes with x at all. */
  readonly pRelated: number;
  /** That y rises up to some x, and that it falls beyond it, one-sided each. */
  readonly pRises: number;
  readonly pFalls: number;
}

/** Fewest points on either side of a break, and their least share of all: a few far out are no side. */
const LEAST_SIDE = 5;
const LEAST_SIDE_SHARE = 0.15;
const DRAWS = 1999;
/** Scores on a line to rounding. */
const STRAIGHT = 1 - 1e-12;

/**
 * Two-lines test of a peak inside the range of x. A line on either side of a break; the break is the one where
 * the less steep of rise and fall is clearest. Each side is held against the clearest rise (fall) that any break
 * finds when y is shuffled, so that choosing the break is paid for. A peak needs both sides: that test errs at
 * most as often as either, also for a y that only rises, or rises and then stays.
 * Clearness of a line of m points: atanh(r) sqrt(m - 3), growing x for a rise.
 * @param x, y at least ten rows; 'no-spread' when either is constant
 * Source: two lines instead of a parabola: Simonsohn 2018, doi 10.1177/2515245918805755; both slopes at once:
 *   Lind & Mehlum 2010, doi 10.1111/j.1468-0084.2009.00569.x (both from memory).
 * Checked: tests/statistics/interior-peak.test.ts; size and power in tests/measures/sweet-spot-operating.test.ts
 */
export function interiorPeak(
  x: ArrayLike<number>,
  y: ArrayLike<number>,
  { seed, draws = DRAWS }: PermutationOptions,
): InteriorPeak | Unavailable {
  const fault = dataFault(2 * LEAST_SIDE, x, y);
  if (fault) return fault;
  const order = Array.from(x, (_, i) => i).sort((i, j) => x[i]! - x[j]!);
  const sortedX = centred(order.map((i) => x[i]!));
  const sortedY = centred(order.map((i) => y[i]!));
  const basis = parabolaBasis(sortedX);
  if (!basis || sortedY.every((value) => value === sortedY[0])) return { reason: 'no-spread' };
  const lines = twoLines(sortedX);
  lines.fit(sortedY);
  const { rise, fall } = lines.clearestBreak();
  const related = explained(basis, sortedY);
  const count = { related: 1, rises: 1, falls: 1 };
  const random = seededRandom(seed);
  for (let draw = 0; draw < draws; draw++) {
    shuffle(sortedY, random);
    lines.fit(sortedY);
    if (explained(basis, sortedY) >= related) count.related++;
    if (lines.clearestRise() >= rise) count.rises++;
    if (lines.clearestFall() >= fall) count.falls++;
  }
  return {
    pRelated: count.related / (draws + 1),
    pRises: count.rises / (draws + 1),
    pFalls: count.falls / (draws + 1),
  };
}

/** Lines on either side of every break of the sorted x. */
function twoLines(x: Float64Array) {
  const n = x.length;
  const breaks: number[] = [];
  const least = Math.max(LEAST_SIDE, Math.ceil(LEAST_SIDE_SHARE * n));
  for (let k = least; k <= n - least; k++) if (x[k]! > x[k - 1]!) breaks.push(k);
  const left = new Float64Array(breaks.length);
  const right = new Float64Array(breaks.length);
  // Sums over the first k points.
  const [sx, sxx] = [
    runningSums(
      x,
      x.map(() => 1),
    ),
    runningSums(x, x),
  ];
  const [sy, syy, sxy] = [
    new Float64Array(n + 1),
    new Float64Array(n + 1),
    new Float64Array(n + 1),
  ];
  const clearness = (from: number, to: number): number => {
    const m = to - from;
    const meanX = (sx[to]! - sx[from]!) / m;
    const meanY = (sy[to]! - sy[from]!) / m;
    const xx = sxx[to]! - sxx[from]! - m * meanX * meanX;
    const yy = syy[to]! - syy[from]! - m * meanY * meanY;
    // Nothing but rounding is left of a constant side.
    if (!(xx > 1e-12 * sxx[n]! && yy > 1e-12 * syy[n]!)) return 0;
    const r = (sxy[to]! - sxy[from]! - m * meanX * meanY) / Math.sqrt(xx * yy);
    return Math.atanh(Math.max(-STRAIGHT, Math.min(STRAIGHT, r))) * Math.sqrt(m - 3);
  };
  return {
    fit(y: Float64Array): void {
      for (let i = 0; i < n; i++) {
        sy[i + 1] = sy[i]! + y[i]!;
        syy[i + 1] = syy[i]! + y[i]! * y[i]!;
        sxy[i + 1] = sxy[i]! + x[i]! * y[i]!;
      }
      for (let b = 0; b < breaks.length; b++) {
        left[b] = clearness(0, breaks[b]!);
        right[b] = clearness(breaks[b]!, n);
      }
    },
    clearestBreak() {
      let best = { rise: -Infinity, fall: -Infinity };
      for (const [b, rise] of left.entries())
        if (Math.min(rise, -right[b]!) > Math.min(best.rise, best.fall))
          best = { rise, fall: -right[b]! };
      return best;
    },
    clearestRise: () => left.reduce((most, z) => Math.max(most, z), -Infinity),
    clearestFall: () => right.reduce((most, z) => Math.max(most, -z), -Infinity),
  };
}

function runningSums(x: Float64Array, y: Float64Array): Float64Array {
  const sums = new Float64Array(x.length + 1);
  for (let i = 0; i < x.length; i++) sums[i + 1] = sums[i]! + x[i]! * y[i]!;
  return sums;
}

/** Orthonormal line and parabola over x, or null when x is constant; with two different x the line alone. */
function parabolaBasis(x: Float64Array): Float64Array[] | null {
  const basis: Float64Array[] = [];
  for (const power of [1, 2]) {
    const column = centred(x.map((value) => value ** power));
    const before = squaredLength(column);
    for (const other of basis) {
      const share = product(column, other);
      for (let i = 0; i < column.length; i++) column[i]! -= share * other[i]!;
    }
    const length = squaredLength(column);
    if (!(length > 1e-12 * before)) break;
    basis.push(column.map((value) => value / Math.sqrt(length)));
  }
  return basis.length > 0 ? basis : null;
}

/** Sum of squares of y that line and parabola explain; y's own sum is the same however it is shuffled. */
function explained(basis: readonly Float64Array[], y: Float64Array): number {
  let sum = 0;
  for (const column of basis) sum += product(column, y) ** 2;
  return sum;
}

function centred(values: ArrayLike<number>): Float64Array {
  const mean = checkedMean(values);
  return Float64Array.from(values, (value) => value - mean);
}

function product(a: Float64Array, b: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += a[i]! * b[i]!;
  return sum;
}

function squaredLength(a: Float64Array): number {
  return product(a, a);
}

function shuffle(values: Float64Array, random: Random): void {
  for (let i = values.length - 1; i > 0; i--) {
    const j = Math.floor(random.uniform(0, i + 1));
    const kept = values[i]!;
    values[i] = values[j]!;
    values[j] = kept;
  }
}
