import { solveSymmetric } from '../maths/solve-symmetric.ts';

export interface LocalWeightsOptions {
  /** Share of the points that each local fit sees, above 0 and up to 1. */
  readonly span: number;
  /** Local line or local parabola. */
  readonly degree: 1 | 2;
}

/**
 * The weights by which each y enters a local regression at some places: fit(place) = sum_i weight_i y_i. With
 * them a curve is had again for other y at the same x, as resampling needs, for the price of one product.
 * Tricube weights over the nearest points, as in localRegression, which has the band.
 * @param x at least degree + 1 different values @param at places inside or near the range of x
 * @returns shape (places, n), row-major; null when a neighbourhood has too few different x
 * Source: Cleveland & Devlin 1988, doi 10.1080/01621459.1988.10478639.
 * Checked: tests/statistics/local-weights.test.ts, against localRegression
 */
export function localWeights(
  x: ArrayLike<number>,
  at: ArrayLike<number>,
  { span, degree }: LocalWeightsOptions,
): Float64Array | null {
  const n = x.length;
  const neighbours = Math.floor(n * span + 1e-9);
  const weights = new Float64Array(at.length * n);
  for (let place = 0; place < at.length; place++) {
    const row = weights.subarray(place * n, (place + 1) * n);
    if (!fillRow(row, x, at[place]!, neighbours, degree)) return null;
  }
  return weights;
}

/**
 * Intercept of the weighted polynomial in u = (x - x0)/bandwidth:
 *   weight_i = w_i (c_0 + c_1 u_i + c_2 u_i^2),  (sum_i w_i u_i^(j + k)) c = (1, 0, 0)
 */
function fillRow(
  row: Float64Array,
  x: ArrayLike<number>,
  x0: number,
  neighbours: number,
  degree: number,
): boolean {
  for (let i = 0; i < row.length; i++) row[i] = Math.abs(x[i]! - x0);
  const bandwidth = row.toSorted()[neighbours - 1] ?? 0;
  if (bandwidth === 0) return false;
  const seen = new Set<number>();
  const moments = new Float64Array(2 * degree + 1);
  for (let i = 0; i < row.length; i++) {
    const distance = row[i]! / bandwidth;
    row[i] = distance < 1 ? (1 - distance ** 3) ** 3 : 0;
    if (row[i] === 0) continue;
    seen.add(x[i]!);
    const u = (x[i]! - x0) / bandwidth;
    for (let power = 0, term = row[i]!; power < moments.length; power++, term *= u)
      moments[power]! += term;
  }
  const terms = degree + 1;
  if (seen.size < terms) return false;
  const c = new Float64Array(terms);
  c[0] = 1;
  const matrix = Float64Array.from(
    { length: terms * terms },
    (_, k) => moments[Math.floor(k / terms) + (k % terms)]!,
  );
  if (!solveSymmetric(c, matrix, c)) return false;
  for (let i = 0; i < row.length; i++) {
    const u = (x[i]! - x0) / bandwidth;
    row[i]! *= c[0]! + u * (c[1]! + u * (c[2] ?? 0));
  }
  return true;
}
