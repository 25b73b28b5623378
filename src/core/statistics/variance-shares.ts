/** Variances and covariances of three contributions that add up: 11, 22, 33, 12, 13, 23. */
export type Covariance3 = ArrayLike<number>;

/** A sum that hardly varies beside its parts is rounding: shares of it would be too. */
const LEAST_SUM = 1e-12;

/**
 * Covariance shares of three contributions in their sum y: cov(x_k, y) / var(y). They add up to 1; a negative
 * one makes up for the others. NaN when the sum does not vary.
 * @param out shape (3)
 * Source: reference.md section D; the same as Pratt's measure for an exact sum.
 * Checked: tests/statistics/variance-shares.test.ts
 */
export function covarianceShares(out: Float64Array, c: Covariance3): void {
  const first = c[0]! + c[3]! + c[4]!;
  const second = c[1]! + c[3]! + c[5]!;
  const third = c[2]! + c[4]! + c[5]!;
  const total = first + second + third;
  const sum = total > LEAST_SUM * (c[0]! + c[1]! + c[2]!) ? total : Number.NaN;
  out[0] = first / sum;
  out[1] = second / sum;
  out[2] = third / sum;
}

/**
 * Shares of three contributions in the sum of their variances, whatever they do together: each in [0, 1].
 * NaN when none varies.
 * @param out shape (3)
 * Source: design.md section 9.
 * Checked: tests/statistics/variance-shares.test.ts
 */
export function ownVarianceShares(out: Float64Array, c: Covariance3): void {
  const total = c[0]! + c[1]! + c[2]!;
  const sum = total > 0 ? total : Number.NaN;
  for (let k = 0; k < 3; k++) out[k] = c[k]! / sum;
}
