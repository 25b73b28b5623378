import { seededRandom } from '../maths/random.ts';
import { dataFault, isUnavailable, type Unavailable } from './estimate.ts';
import { type RowStatistic, rowsByGroup } from './resampling.ts';

/** A permutation p value, two-sided. */
export interface PermutationResult {
  /** Share of rearrangements with a statistic at least as far from zero as the observed one. */
  readonly p: number;
  /** Rearrangements looked at: all of them when `exact`, else a random draw. */
  readonly rearrangements: number;
  readonly exact: boolean;
}

export interface PermutationOptions {
  readonly seed: number;
  /** Random rearrangements when there are too many to look at all. */
  readonly draws?: number;
}

const DRAWS = 9999;
const EXACT_UP_TO = 20_000;
const EXACT_SIGNS_UP_TO = 2 ** 16;
// With fewer, no data at all could reach p = 0.05.
const LEAST_PER_GROUP = 4;
const LEAST_PAIRS = 6;
// Sums taken in another order may differ by rounding; such rearrangements are ties.
const TIE = 1e-10;

/**
 * Two-sample permutation test: are the labels of two groups exchangeable?
 * @param sizeA, sizeB rows of each group, at least four
 * @param statistic 0 on average when the groups do not differ, either sign otherwise (a difference,
 *   a log ratio); called with the rows labelled A and those labelled B
 * @returns exact when there are at most 20 000 divisions; else (b + 1)/(m + 1) over random ones;
 *   a rearrangement without value counts as extreme, which only makes p larger
 * Source: Fisher 1935; Phipson & Smyth 2010, doi 10.2202/1544-6115.1585 for the +1.
 * Checked: tests/statistics/permutation-test.test.ts
 */
export function permutationTest(
  sizeA: number,
  sizeB: number,
  statistic: RowStatistic,
  { seed, draws = DRAWS }: PermutationOptions,
): PermutationResult | Unavailable {
  const have = Math.min(sizeA, sizeB);
  if (have < LEAST_PER_GROUP) return { reason: 'too-few', need: LEAST_PER_GROUP, have };
  const observed = statistic(...rowsByGroup([sizeA, sizeB]));
  if (isUnavailable(observed)) return observed;
  const isExtreme = farFrom(observed);
  const rows = rowsByGroup([sizeA + sizeB])[0]!;
  const a = rows.subarray(0, sizeA);
  const b = rows.subarray(sizeA);
  const extreme = () => isExtreme(statistic(a, b));

  if (divisions(sizeA + sizeB, sizeA) <= EXACT_UP_TO) {
    let count = 0;
    const of = forEachDivision(a, b, () => {
      if (extreme()) count++;
    });
    return { p: count / of, rearrangements: of, exact: true };
  }
  const random = seededRandom(seed);
  return randomTest(draws, () => {
    for (let i = 0; i < sizeA; i++) swap(rows, i, Math.floor(random.uniform(i, rows.length)));
    return extreme();
  });
}

/**
 * Paired permutation test of a mean difference of zero, by flipping signs.
 * @param differences one per pair, at least six
 * @returns exact up to 16 pairs; else (b + 1)/(m + 1) over random signs; 'no-spread' when all are 0
 * Source: Fisher 1935, section 21.  Checked: tests/statistics/permutation-test.test.ts, Darwin's maize.
 */
export function signFlipTest(
  differences: ArrayLike<number>,
  { seed, draws = DRAWS }: PermutationOptions,
): PermutationResult | Unavailable {
  const fault = dataFault(LEAST_PAIRS, differences);
  if (fault) return fault;
  const sizes = Float64Array.from(differences, Math.abs);
  if (sizes.every((size) => size === 0)) return { reason: 'no-spread' };
  const n = sizes.length;
  let observed = 0;
  for (let i = 0; i < n; i++) observed += differences[i]!;
  const isExtreme = farFrom(observed);

  if (2 ** n <= EXACT_SIGNS_UP_TO) {
    let count = 0;
    for (let pattern = 0; pattern < 2 ** n; pattern++)
      if (isExtreme(signedSum(sizes, (i) => (pattern >> i) & 1))) count++;
    return { p: count / 2 ** n, rearrangements: 2 ** n, exact: true };
  }
  const random = seededRandom(seed);
  return randomTest(draws, () => isExtreme(signedSum(sizes, () => random.uniform(-1, 1) >= 0)));
}

function randomTest(draws: number, drawIsExtreme: () => boolean): PermutationResult {
  if (!(Number.isInteger(draws) && draws >= 99))
    throw new RangeError(`${draws} random rearrangements: give at least 99`);
  let count = 0;
  for (let i = 0; i < draws; i++) if (drawIsExtreme()) count++;
  return { p: (count + 1) / (draws + 1), rearrangements: draws, exact: false };
}

function farFrom(observed: number): (answer: number | Unavailable) => boolean {
  const least = Math.abs(observed) * (1 - TIE);
  return (answer) => !(typeof answer === 'number' && Math.abs(answer) < least);
}

function signedSum(sizes: Float64Array, isPositive: (i: number) => boolean | number): number {
  let sum = 0;
  for (let i = 0; i < sizes.length; i++) sum += isPositive(i) ? sizes[i]! : -sizes[i]!;
  return sum;
}

/** Ways to choose k of n. */
function divisions(n: number, k: number): number {
  let ways = 1;
  for (let i = 1; i <= Math.min(k, n - k); i++) ways = (ways * (n - i + 1)) / i;
  return Math.round(ways);
}

/**
 * Every way to divide rows 0 .. n-1 into a and b, in lexicographic order of a.
 * @returns how many there were
 */
function forEachDivision(a: Int32Array, b: Int32Array, visit: () => void): number {
  const n = a.length + b.length;
  for (let i = 0; i < a.length; i++) a[i] = i;
  for (let count = 1; ; count++) {
    let chosen = 0;
    for (let row = 0; row < n; row++)
      if (chosen < a.length && a[chosen] === row) chosen++;
      else b[row - chosen] = row;
    visit();
    let last = a.length - 1;
    while (last >= 0 && a[last] === n - a.length + last) last--;
    if (last < 0) return count;
    a[last]!++;
    for (let i = last + 1; i < a.length; i++) a[i] = a[i - 1]! + 1;
  }
}

function swap(rows: Int32Array, i: number, j: number): void {
  const kept = rows[i]!;
  rows[i] = rows[j]!;
  rows[j] = kept;
}
