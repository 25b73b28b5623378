import { seededRandom } from '../maths/random.ts';
import { dataFault, type Estimate, isUnavailable, type Unavailable } from './estimate.ts';
import { coefficientEstimate, leastSquares } from './least-squares.ts';
import { checkedMean } from './moments.ts';
import type { PermutationOptions } from './permutation-test.ts';

/** A slope common to several groups, each with a level of its own. */
export interface CommonSlope {
  /** y per unit of x. */
  readonly slope: Estimate;
  /** Two-sided, by rearranging y within each group. */
  readonly p: number;
}

/** Below it no rearrangement is rare enough: 6! = 720. */
const LEAST_ROWS = 6;
const DRAWS = 9999;
/** Sums taken in another order may differ by rounding; such rearrangements are ties. */
const TIE = 1e-10;

/**
 * Slope of y against x with a level for each group (analysis of covariance), Student's interval, and a permutation
 * test that leaves every value in its group: a difference between groups is never taken for a slope.
 * @param groups label of each row; one label for all is plain regression
 * @returns 'no-spread' when y is constant within every group, 'collinear' when x is
 * @throws RangeError when the lengths differ or draws are below 99
 * Source: Fisher 1932, Statistical Methods, on the analysis of covariance (from memory); permutation within
 *   groups: Edgington, Randomization Tests (from memory); Phipson & Smyth 2010, doi 10.2202/1544-6115.1585.
 * Checked: tests/statistics/common-slope.test.ts
 */
export function commonSlope(
  x: ArrayLike<number>,
  y: ArrayLike<number>,
  groups: readonly string[],
  { seed, draws = DRAWS }: PermutationOptions,
): CommonSlope | Unavailable {
  const fault = dataFault(LEAST_ROWS, x, y);
  if (fault) return fault;
  if (groups.length !== x.length)
    throw new RangeError(`${groups.length} labels for ${x.length} rows: each row needs one`);
  const rowsOf = rowsByLabel(groups);
  const scatter = scatterWithin(y, rowsOf);
  if (scatter === 0) return { reason: 'no-spread' };
  const levels = rowsOf.map((rows) => {
    const column = new Float64Array(x.length);
    for (const row of rows) column[row] = 1;
    return column;
  });
  const fit = leastSquares([...levels, x], y);
  if (isUnavailable(fit)) return fit;
  return {
    slope: coefficientEstimate(fit, rowsOf.length),
    p: permutationP(x, y, rowsOf, seed, draws),
  };
}

function permutationP(
  x: ArrayLike<number>,
  y: ArrayLike<number>,
  rowsOf: readonly number[][],
  seed: number,
  draws: number,
): number {
  if (!(Number.isInteger(draws) && draws >= 99))
    throw new RangeError(`${draws} random rearrangements: give at least 99`);
  const random = seededRandom(seed);
  // Centred within groups, x makes the levels of y drop out of the sum.
  const parts = rowsOf.map((rows) => {
    const centre = checkedMean(rows.map((row) => x[row]!));
    return { x: rows.map((row) => x[row]! - centre), y: rows.map((row) => y[row]!) };
  });
  const product = () =>
    parts.reduce((sum, part) => part.x.reduce((s, u, i) => s + u * part.y[i]!, sum), 0);
  const least = Math.abs(product()) * (1 - TIE);
  let extreme = 0;
  for (let draw = 0; draw < draws; draw++) {
    for (const part of parts) shuffle(part.y, (low, high) => random.uniform(low, high));
    if (Math.abs(product()) >= least) extreme++;
  }
  return (extreme + 1) / (draws + 1);
}

/** Fisher and Yates. */
function shuffle(values: number[], uniform: (low: number, high: number) => number): void {
  for (let i = values.length - 1; i > 0; i--) {
    const j = Math.floor(uniform(0, i + 1));
    const kept = values[i]!;
    values[i] = values[j]!;
    values[j] = kept;
  }
}

function rowsByLabel(labels: readonly string[]): number[][] {
  const rows = new Map<string, number[]>();
  for (const [row, label] of labels.entries()) rows.set(label, [...(rows.get(label) ?? []), row]);
  return [...rows.values()];
}

/** Largest distance of a value from the first of its group: exactly 0 when all groups are constant. */
function scatterWithin(y: ArrayLike<number>, rowsOf: readonly number[][]): number {
  let largest = 0;
  for (const rows of rowsOf)
    for (const row of rows) largest = Math.max(largest, Math.abs(y[row]! - y[rows[0]!]!));
  return largest;
}
