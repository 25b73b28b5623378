/**
 * Solves A x = b for a symmetric positive definite A by Cholesky's factorisation A = L L'.
 * @param out x, shape (n) @param a row-major (n, n), kept @param b shape (n), kept; may be `out`
 * @returns false, with `out` unchanged, when A is not positive definite
 * Source: Golub & Van Loan, Matrix Computations, section 4.2 (from memory).
 * Checked: tests/maths/solve-symmetric.test.ts
 */
export function solveSymmetric(out: Float64Array, a: Float64Array, b: Float64Array): boolean {
  const n = b.length;
  const l = Float64Array.from(a);
  for (let i = 0; i < n; i++) {
    for (let j = 0; j <= i; j++) {
      let sum = l[n * i + j]!;
      for (let k = 0; k < j; k++) sum -= l[n * i + k]! * l[n * j + k]!;
      if (i !== j) l[n * i + j] = sum / l[n * j + j]!;
      else if (sum > 0) l[n * i + i] = Math.sqrt(sum);
      else return false;
    }
  }
  for (let i = 0; i < n; i++) {
    let sum = b[i]!;
    for (let k = 0; k < i; k++) sum -= l[n * i + k]! * out[k]!;
    out[i] = sum / l[n * i + i]!;
  }
  for (let i = n - 1; i >= 0; i--) {
    let sum = out[i]!;
    for (let k = i + 1; k < n; k++) sum -= l[n * k + i]! * out[k]!;
    out[i] = sum / l[n * i + i]!;
  }
  return true;
}
