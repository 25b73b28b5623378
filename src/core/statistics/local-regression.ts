import { tQuantile } from './distributions.ts';
import { CONFIDENCE, checkLevel, dataFault, type Unavailable } from './estimate.ts';

/** A smooth curve through scattered points, with its pointwise band. */
export interface LocalRegression {
  /** At the places asked for; columns of equal length. */
  readonly fit: Float64Array;
  readonly low: Float64Array;
  readonly high: Float64Array;
  /** Spread of the points about the curve. */
  readonly residualSd: number;
  /** Parameters the curve is worth: trace of the smoother. */
  readonly equivalentParameters: number;
  readonly level: number;
  readonly n: number;
}

export interface LocalRegressionOptions {
  /** Share of the points that each local fit sees, above 0 and up to 1. */
  readonly span?: number;
  /** Local line or local parabola. */
  readonly degree?: 1 | 2;
  readonly level?: number;
}

const SPAN = 0.75;
// What rounding leaves of a polynomial on too few different x, relative to its terms.
const LEAST_INDEPENDENT_PART = 1e-10;

/**
 * Local polynomial regression of y on x, tricube weights over the nearest points.
 * Band: fit -+ t s |l(x)|, s^2 = RSS/delta1, df = delta1^2/delta2, delta_k = tr ((I-L)(I-L)')^k,
 * where l(x) are the weights by which y enters; O(n^3), meant for hundreds of points.
 * @param x, y rows of two columns, at least (degree + 3)/span
 * @param at where to evaluate, inside or near the range of x
 * @returns 'collinear' when a neighbourhood has too few different x, or the curve meets every point
 * @throws RangeError for other spans or a place that is not finite
 * Source: Cleveland & Devlin 1988, doi 10.1080/01621459.1988.10478639.
 * Checked: tests/statistics/local-regression.test.ts, against the authors' own program.
 */
export function localRegression(
  x: ArrayLike<number>,
  y: ArrayLike<number>,
  at: ArrayLike<number>,
  { span = SPAN, degree = 2, level = CONFIDENCE }: LocalRegressionOptions = {},
): LocalRegression | Unavailable {
  checkLevel(level);
  if (!(span > 0 && span <= 1))
    throw new RangeError(`Span ${span}: give the share of points in each fit, up to 1`);
  if (dataFault(0, at)) throw new RangeError('localRegression: a place to evaluate is not finite');
  const fault = dataFault(Math.ceil((degree + 3) / span), x, y);
  if (fault) return fault;
  const n = x.length;
  const neighbours = Math.floor(n * span + 1e-9);
  const smoother: Float64Array[] = [];
  for (let i = 0; i < n; i++) {
    const weights = equivalentKernel(x, x[i]!, neighbours, degree);
    if (!weights) return { reason: 'collinear' };
    smoother.push(weights);
  }
  const { residualSd, degreesOfFreedom, equivalentParameters } = residualSpread(smoother, y);
  if (!(degreesOfFreedom > 0)) return { reason: 'collinear' };
  const t = tQuantile((1 + level) / 2, degreesOfFreedom);
  const fit = new Float64Array(at.length);
  const low = new Float64Array(at.length);
  const high = new Float64Array(at.length);
  for (let i = 0; i < at.length; i++) {
    const weights = equivalentKernel(x, at[i]!, neighbours, degree);
    if (!weights) return { reason: 'collinear' };
    const half = t * residualSd * Math.sqrt(dot(weights, weights));
    fit[i] = dot(weights, y);
    low[i] = fit[i]! - half;
    high[i] = fit[i]! + half;
  }
  return { fit, low, high, residualSd, equivalentParameters, level, n };
}

/**
 * The weights l(x0) with fit(x0) = sum l_i y_i, from polynomials orthogonal under the tricube
 * weights; null when the neighbourhood cannot carry the degree.
 */
function equivalentKernel(
  x: ArrayLike<number>,
  x0: number,
  neighbours: number,
  degree: number,
): Float64Array | null {
  const distances = Float64Array.from(x, (value) => Math.abs(value - x0));
  const bandwidth = distances.toSorted()[neighbours - 1]!;
  if (bandwidth === 0) return null;
  const weights = distances.map((d) => (d < bandwidth ? (1 - (d / bandwidth) ** 3) ** 3 : 0));
  const u = Float64Array.from(x, (value) => (value - x0) / bandwidth);
  const kernel = new Float64Array(x.length);
  const basis: { values: Float64Array; norm: number; atX0: number }[] = [];
  for (let power = 0; power <= degree; power++) {
    const values = u.map((value) => value ** power);
    let atX0 = power === 0 ? 1 : 0;
    const before = weightedDot(weights, values, values);
    for (const other of basis) {
      const share = weightedDot(weights, values, other.values) / other.norm;
      for (let i = 0; i < values.length; i++) values[i]! -= share * other.values[i]!;
      atX0 -= share * other.atX0;
    }
    const norm = weightedDot(weights, values, values);
    if (norm <= LEAST_INDEPENDENT_PART * before) return null;
    basis.push({ values, norm, atX0 });
    for (let i = 0; i < kernel.length; i++) kernel[i]! += (weights[i]! * values[i]! * atX0) / norm;
  }
  return kernel;
}

/** s^2 = RSS/delta1 and its degrees of freedom, from the whole smoother matrix. */
function residualSpread(smoother: readonly Float64Array[], y: ArrayLike<number>) {
  let equivalentParameters = 0;
  let residualSumSquares = 0;
  const residualRows = smoother.map((weights, i) => {
    equivalentParameters += weights[i]!;
    residualSumSquares += (y[i]! - dot(weights, y)) ** 2;
    return weights.map((weight, j) => (i === j ? 1 : 0) - weight);
  });
  let delta1 = 0;
  let delta2 = 0;
  for (const [i, row] of residualRows.entries()) {
    delta1 += dot(row, row);
    for (const [j, other] of residualRows.entries())
      if (j <= i) delta2 += (j < i ? 2 : 1) * dot(row, other) ** 2;
  }
  return {
    residualSd: Math.sqrt(residualSumSquares / delta1),
    degreesOfFreedom: delta1 < LEAST_INDEPENDENT_PART ? 0 : delta1 ** 2 / delta2,
    equivalentParameters,
  };
}

function dot(a: Float64Array, b: ArrayLike<number>): number {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += a[i]! * b[i]!;
  return sum;
}

function weightedDot(weights: Float64Array, a: Float64Array, b: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += weights[i]! * a[i]! * b[i]!;
  return sum;
}
