import { tQuantile } from './distributions.ts';
import { CONFIDENCE, checkLevel, dataFault, type Estimate, type Unavailable } from './estimate.ts';

/** A linear fit, one coefficient per column of the design. */
export interface LeastSquaresFit {
  readonly coefficients: Float64Array;
  /** Of the coefficients, from the residual SD. */
  readonly standardErrors: Float64Array;
  readonly residualSd: number;
  readonly residualSumSquares: number;
  /** Rows minus columns. */
  readonly degreesOfFreedom: number;
  readonly n: number;
}

// With columns of unit length, what rounding alone leaves of a dependent column is a few 1e-16.
const LEAST_INDEPENDENT_PART = 1e-13;

/**
 * Ordinary least squares, y ~ sum_j b_j columns[j], by Householder QR of the scaled columns
 * (the normal equations would square the condition number).
 * @param columns design, p columns of n values; a constant term is a column of ones
 * @param y n values, n > p
 * @throws RangeError when the lengths differ or there is no column
 * Source: Golub 1965, doi 10.1007/BF01436075.  Checked: tests/statistics/least-squares.test.ts, NIST StRD.
 */
export function leastSquares(
  columns: readonly ArrayLike<number>[],
  y: ArrayLike<number>,
): LeastSquaresFit | Unavailable {
  const p = columns.length;
  if (p === 0) throw new RangeError('leastSquares: the design needs at least one column');
  const fault = dataFault(p + 1, y, ...columns);
  if (fault) return fault;
  const n = y.length;
  const scales = columns.map((column) => lengthFrom(column, 0) || 1);
  const q = columns.map((column, j) => Float64Array.from(column, (value) => value / scales[j]!));
  const rotated = Float64Array.from(y);
  const diagonal = triangularise(q, rotated);
  if (!diagonal) return { reason: 'collinear' };

  let residualSumSquares = 0;
  for (let i = p; i < n; i++) residualSumSquares += rotated[i]! ** 2;
  const residualSd = Math.sqrt(residualSumSquares / (n - p));
  const coefficients = solveUpper(q, diagonal, rotated);
  const standardErrors = new Float64Array(p);
  for (let k = 0; k < p; k++) {
    const unit = new Float64Array(p);
    unit[k] = 1;
    const column = solveUpper(q, diagonal, unit);
    for (let j = 0; j < p; j++) standardErrors[j]! += column[j]! ** 2;
  }
  for (let j = 0; j < p; j++) {
    coefficients[j]! /= scales[j]!;
    standardErrors[j] = (residualSd * Math.sqrt(standardErrors[j]!)) / scales[j]!;
  }
  return {
    coefficients,
    standardErrors,
    residualSd,
    residualSumSquares,
    degreesOfFreedom: n - p,
    n,
  };
}

/**
 * One coefficient with Student's interval.
 * @throws RangeError when the fit has no such coefficient
 */
export function coefficientEstimate(
  fit: LeastSquaresFit,
  index: number,
  level = CONFIDENCE,
): Estimate {
  checkLevel(level);
  const value = fit.coefficients[index];
  const standardError = fit.standardErrors[index];
  if (value === undefined || standardError === undefined)
    throw new RangeError(`Coefficient ${index} of a fit with ${fit.coefficients.length}`);
  const half = tQuantile((1 + level) / 2, fit.degreesOfFreedom) * standardError;
  return { value, low: value - half, high: value + half, level, n: fit.n };
}

/**
 * Householder reflections, in place: the strict upper triangle of R stays in `columns`, the
 * reflected right-hand side in `rhs`.
 * @returns the diagonal of R, or null when a column depends on those before it
 */
function triangularise(columns: readonly Float64Array[], rhs: Float64Array): Float64Array | null {
  const diagonal = new Float64Array(columns.length);
  for (const [k, v] of columns.entries()) {
    const length = lengthFrom(v, k);
    if (length < LEAST_INDEPENDENT_PART) return null;
    diagonal[k] = v[k]! > 0 ? -length : length;
    v[k]! -= diagonal[k]!;
    const halfSquare = -diagonal[k]! * v[k]!;
    for (const target of [...columns.slice(k + 1), rhs]) {
      let dot = 0;
      for (let i = k; i < v.length; i++) dot += v[i]! * target[i]!;
      const factor = dot / halfSquare;
      for (let i = k; i < v.length; i++) target[i]! -= factor * v[i]!;
    }
  }
  return diagonal;
}

/** Back substitution with the triangle {@link triangularise} leaves. */
function solveUpper(
  columns: readonly Float64Array[],
  diagonal: Float64Array,
  rhs: Float64Array,
): Float64Array {
  const solution = new Float64Array(diagonal.length);
  for (let j = diagonal.length - 1; j >= 0; j--) {
    let rest = rhs[j]!;
    for (let k = j + 1; k < diagonal.length; k++) rest -= columns[k]![j]! * solution[k]!;
    solution[j] = rest / diagonal[j]!;
  }
  return solution;
}

function lengthFrom(column: ArrayLike<number>, start: number): number {
  let squares = 0;
  for (let i = start; i < column.length; i++) squares += column[i]! ** 2;
  return Math.sqrt(squares);
}
