import { tQuantile } from './distributions.ts';
import { CONFIDENCE, checkLevel, dataFault, type Unavailable } from './estimate.ts';
import { type LocalWeightsOptions, localWeights } from './local-weights.ts';

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

export interface LocalRegressionOptions extends Partial<LocalWeightsOptions> {
  readonly level?: number;
}

const SPAN = 0.75;
/** Residual degrees of freedom below this are rounding: the curve meets every point. */
const LEAST_FREEDOM = 1e-10;
/** Exact degrees of freedom cost the cube of the points; of more points than this they are taken to be delta1. */
const MOST_EXACT = 400;
const ROWS_AT_ONCE = 100;

/**
 * Local polynomial regression of y on x, tricube weights over the nearest points.
 * Band: fit -+ t s |l(x)|, s^2 = RSS/delta1, df = delta1^2/delta2, delta_k = tr ((I-L)(I-L)')^k,
 * where l(x) are the weights by which y enters; of more than 400 points df = delta1.
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
  const weights = localWeights(x, at, { span, degree });
  const spread = (n > MOST_EXACT ? largeSpread : residualSpread)(x, y, { span, degree });
  if (!weights || !spread || !(spread.degreesOfFreedom > 0)) return { reason: 'collinear' };
  const { residualSd, degreesOfFreedom, equivalentParameters } = spread;
  const t = tQuantile((1 + level) / 2, degreesOfFreedom);
  const fit = new Float64Array(at.length);
  const low = new Float64Array(at.length);
  const high = new Float64Array(at.length);
  for (let i = 0; i < at.length; i++) {
    const row = weights.subarray(i * n, (i + 1) * n);
    const half = t * residualSd * Math.sqrt(dot(row, row));
    fit[i] = dot(row, y);
    low[i] = fit[i]! - half;
    high[i] = fit[i]! + half;
  }
  return { fit, low, high, residualSd, equivalentParameters, level, n };
}

interface ResidualSpread {
  readonly residualSd: number;
  readonly degreesOfFreedom: number;
  readonly equivalentParameters: number;
}

/** s^2 = RSS/delta1 and its degrees of freedom, from the whole smoother matrix, shape (n, n); null as localWeights. */
function residualSpread(
  x: ArrayLike<number>,
  y: ArrayLike<number>,
  options: LocalWeightsOptions,
): ResidualSpread | null {
  const n = y.length;
  const smoother = localWeights(x, x, options);
  if (!smoother) return null;
  let equivalentParameters = 0;
  let residualSumSquares = 0;
  const residualRows = Array.from({ length: n }, (_, i) => {
    const weights = smoother.subarray(i * n, (i + 1) * n);
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
    degreesOfFreedom: delta1 < LEAST_FREEDOM ? 0 : delta1 ** 2 / delta2,
    equivalentParameters,
  };
}

/**
 * The same of many points, some rows of the smoother at a time: delta1 stands for the degrees of freedom, which are
 * so many that no interval feels the difference.
 */
function largeSpread(
  x: ArrayLike<number>,
  y: ArrayLike<number>,
  options: LocalWeightsOptions,
): ResidualSpread | null {
  const n = y.length;
  let [equivalentParameters, residualSumSquares, delta1] = [0, 0, n];
  for (let first = 0; first < n; first += ROWS_AT_ONCE) {
    const places = Array.prototype.slice.call(x, first, first + ROWS_AT_ONCE);
    const smoother = localWeights(x, places, options);
    if (!smoother) return null;
    for (let place = 0; place < places.length; place++) {
      const row = smoother.subarray(place * n, (place + 1) * n);
      const own = row[first + place]!;
      equivalentParameters += own;
      delta1 += dot(row, row) - 2 * own;
      residualSumSquares += (y[first + place]! - dot(row, y)) ** 2;
    }
  }
  return {
    residualSd: Math.sqrt(residualSumSquares / delta1),
    degreesOfFreedom: delta1,
    equivalentParameters,
  };
}

function dot(a: Float64Array, b: ArrayLike<number>): number {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += a[i]! * b[i]!;
  return sum;
}
