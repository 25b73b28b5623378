export interface LocalWeightsOptions {
  /** Share of the points that each local fit sees, above 0 and up to 1. */
  readonly span: number;
  /** Local line or local parabola. */
  readonly degree: 1 | 2;
}

/** What rounding leaves of a polynomial on too few different x, relative to its terms. */
const LEAST_INDEPENDENT_PART = 1e-10;

/**
 * The weights by which each y enters a local regression at some places: fit(place) = sum_i weight_i y_i. With
 * them a curve is had again for other y at the same x, as resampling needs, for the price of one product.
 * Tricube weights over the nearest points; localRegression adds the band.
 * @param x at least degree + 1 different values @param at places inside or near the range of x
 * @returns shape (places, n), row-major; null when a neighbourhood has too few different x
 * Source: Cleveland & Devlin 1988, doi 10.1080/01621459.1988.10478639.
 * Checked: tests/statistics/local-weights.test.ts; tests/statistics/local-regression.test.ts, against the authors'
 *   own program
 */
export function localWeights(
  x: ArrayLike<number>,
  at: ArrayLike<number>,
  { span, degree }: LocalWeightsOptions,
): Float64Array | null {
  const n = x.length;
  const sorted = Float64Array.from(x).sort();
  const neighbours = Math.floor(n * span + 1e-9);
  const weights = new Float64Array(at.length * n);
  for (let place = 0; place < at.length; place++) {
    const bandwidth = distanceOf(sorted, at[place]!, neighbours);
    if (bandwidth === 0) return null;
    const row = weights.subarray(place * n, (place + 1) * n);
    const u = Float64Array.from(x, (value) => (value - at[place]!) / bandwidth);
    if (!fillRow(row, u, degree)) return null;
  }
  return weights;
}

/** Distance of the k-th nearest of sorted values: the narrowest reach over any k in a row. */
function distanceOf(sorted: Float64Array, x0: number, k: number): number {
  if (k < 1) return 0;
  let least = Infinity;
  for (let i = 0; i + k <= sorted.length; i++)
    least = Math.min(least, Math.max(x0 - sorted[i]!, sorted[i + k - 1]! - x0));
  return least;
}

/**
 * Value at u = 0 of the weighted polynomial, as weights of the y:
 *   l_i = w_i sum_k p_k(u_i) p_k(0)/|p_k|^2,  p_k orthogonal under the tricube weights w:
 *   p_0 = 1,  p_1 = u - a_0,  p_2 = (u - a_1) p_1 - |p_1|^2/|p_0|^2
 * @param out shape (n) @param u distances from the place, in bandwidths
 * @returns false when too few different u have a weight
 * Source: three-term recurrence, Forsythe 1957, doi 10.1137/0105007 (from memory).
 */
function fillRow(out: Float64Array, u: Float64Array, degree: 1 | 2): boolean {
  let [norm0, moment] = [0, 0];
  for (let i = 0; i < u.length; i++) {
    const distance = Math.abs(u[i]!);
    const shoulder = distance < 1 ? 1 - distance * distance * distance : 0;
    out[i] = shoulder * shoulder * shoulder;
    norm0 += out[i]!;
    moment += out[i]! * u[i]!;
  }
  if (!(norm0 > 0)) return false;
  const a0 = moment / norm0;
  let [norm1, squares] = [0, 0];
  moment = 0;
  for (let i = 0; i < u.length; i++) {
    const p1 = u[i]! - a0;
    norm1 += out[i]! * p1 * p1;
    moment += out[i]! * p1 * p1 * u[i]!;
    squares += out[i]! * u[i]! * u[i]!;
  }
  if (!(norm1 > LEAST_INDEPENDENT_PART * squares)) return false;
  const a1 = moment / norm1;
  const b1 = norm1 / norm0;
  let [norm2, fourths] = [0, 0];
  for (let i = 0; i < u.length; i++) {
    norm2 += out[i]! * ((u[i]! - a1) * (u[i]! - a0) - b1) ** 2;
    fourths += out[i]! * u[i]! ** 4;
  }
  if (degree === 2 && !(norm2 > LEAST_INDEPENDENT_PART * fourths)) return false;
  const by1 = -a0 / norm1;
  const by2 = degree === 2 ? (a1 * a0 - b1) / norm2 : 0;
  for (let i = 0; i < u.length; i++) {
    const p1 = u[i]! - a0;
    out[i]! *= 1 / norm0 + by1 * p1 + by2 * ((u[i]! - a1) * p1 - b1);
  }
  return true;
}
