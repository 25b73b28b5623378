/** Principal axes of a covariance matrix, most variance first. */
export interface PrincipalAxes {
  /** Variance along each axis, falling. */
  readonly variances: Float64Array;
  /** Unit axes, at right angles to each other, shape (n, n), one a row; the sign of each is arbitrary. */
  readonly axes: Float64Array;
}

/** Each sweep squares what is left off the diagonal; a dozen is enough for any matrix of doubles. */
const MOST_SWEEPS = 30;

/**
 * Eigenvalues and eigenvectors of a symmetric matrix by Jacobi's cyclic rotations.
 * @param covariance finite, row-major, shape (n, n), kept
 * Source: Golub & Van Loan, Matrix Computations, section 8.5 (from memory).
 * Checked: tests/statistics/principal-axes.test.ts
 */
export function principalAxes(covariance: ArrayLike<number>): PrincipalAxes {
  const n = Math.round(Math.sqrt(covariance.length));
  const a = Float64Array.from(covariance);
  const rows = Float64Array.from({ length: n * n }, (_, i) => (i % (n + 1) === 0 ? 1 : 0));
  for (let sweep = 0; sweep < MOST_SWEEPS; sweep++) {
    let turned = false;
    for (let p = 0; p < n - 1; p++)
      for (let q = p + 1; q < n; q++) turned = clearPair(a, rows, n, p, q) || turned;
    if (!turned) break;
  }
  const order = Array.from({ length: n }, (_, k) => k).sort(
    (k, l) => a[l * (n + 1)]! - a[k * (n + 1)]!,
  );
  return {
    variances: Float64Array.from(order, (k) => a[k * (n + 1)]!),
    axes: Float64Array.from(order.flatMap((k) => [...rows.subarray(k * n, (k + 1) * n)])),
  };
}

/** Turns axes p and q in their plane so that a_pq vanishes; false when it is nothing already. */
function clearPair(a: Float64Array, rows: Float64Array, n: number, p: number, q: number): boolean {
  const off = a[p * n + q]!;
  const size = Math.sqrt(Math.abs(a[p * (n + 1)]! * a[q * (n + 1)]!));
  if (off === 0 || Math.abs(off) < Number.EPSILON * 0.01 * size) return false;
  const ratio = (a[q * (n + 1)]! - a[p * (n + 1)]!) / (2 * off);
  const tangent = (ratio < 0 ? -1 : 1) / (Math.abs(ratio) + Math.hypot(1, ratio));
  const cosine = 1 / Math.hypot(1, tangent);
  const sine = tangent * cosine;
  for (let k = 0; k < n; k++) turn(a, k * n + p, k * n + q, cosine, sine);
  for (let k = 0; k < n; k++) turn(a, p * n + k, q * n + k, cosine, sine);
  for (let k = 0; k < n; k++) turn(rows, p * n + k, q * n + k, cosine, sine);
  return true;
}

function turn(values: Float64Array, i: number, j: number, cosine: number, sine: number): void {
  const x = values[i]!;
  const y = values[j]!;
  values[i] = cosine * x - sine * y;
  values[j] = sine * x + cosine * y;
}
