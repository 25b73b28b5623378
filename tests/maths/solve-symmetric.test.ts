import fc from 'fast-check';
import { expect, it } from 'vitest';
import { solveSymmetric } from '../../src/core/maths/solve-symmetric.ts';

it('solves a worked example', () => {
  // The 3 x 3 matrix [4 12 -16; 12 37 -43; -16 -43 98] with L = [2; 6 1; -8 5 3] is the usual textbook example of
  // Cholesky's factorisation (from memory); b = A (1, 2, 3)'.
  const a = Float64Array.of(4, 12, -16, 12, 37, -43, -16, -43, 98);
  const x = new Float64Array(3);
  expect(solveSymmetric(x, a, Float64Array.of(-20, -43, 192))).toBe(true);
  // condition number 2.5e3
  [1, 2, 3].forEach((value, i) => {
    expect(x[i]).toBeCloseTo(value, 9);
  });
});

it('refuses a matrix that is not positive definite, and leaves the answer alone', () => {
  const x = Float64Array.of(7, 7);
  expect(solveSymmetric(x, Float64Array.of(1, 2, 2, 1), Float64Array.of(1, 1))).toBe(false);
  expect(solveSymmetric(x, Float64Array.of(1, 1, 1, 1), Float64Array.of(1, 1))).toBe(false);
  expect(x).toEqual(Float64Array.of(7, 7));
});

it('gives back any x from A x, also in place', () => {
  const numbers = fc.array(fc.double({ min: -1, max: 1, noNaN: true }), {
    minLength: 16,
    maxLength: 16,
  });
  fc.assert(
    fc.property(numbers, numbers, (m, wanted) => {
      // A = M M' + I is positive definite with condition number at most 17.
      const n = 4;
      const a = new Float64Array(n * n);
      const b = new Float64Array(n);
      for (let i = 0; i < n; i++) {
        for (let j = 0; j < n; j++) {
          for (let k = 0; k < n; k++) a[n * i + j]! += m[n * i + k]! * m[n * j + k]!;
        }
        a[n * i + i]! += 1;
      }
      for (let i = 0; i < n; i++) {
        for (let j = 0; j < n; j++) b[i]! += a[n * i + j]! * wanted[j]!;
      }
      expect(solveSymmetric(b, a, b)).toBe(true);
      for (let i = 0; i < n; i++) expect(Math.abs(b[i]! - wanted[i]!)).toBeLessThan(1e-12);
    }),
  );
});
