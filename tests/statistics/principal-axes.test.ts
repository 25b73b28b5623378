import { describe, expect, test } from 'vitest';
import { principalAxes } from '../../src/core/statistics/principal-axes.ts';
import { expectNear, ROUNDING } from './answers.ts';

describe('principalAxes', () => {
  test('gives the roots of the characteristic polynomial', () => {
    // Eigenvalues of the second-difference matrix: 2 - 2 cos(k pi/4), k = 3, 2, 1 (closed form).
    const { variances, axes } = principalAxes([2, -1, 0, -1, 2, -1, 0, -1, 2]);
    expectNear(variances[0], 2 + Math.SQRT2, ROUNDING);
    expectNear(variances[1], 2, ROUNDING);
    expectNear(variances[2], 2 - Math.SQRT2, ROUNDING);
    const sign = Math.sign(axes[0]!);
    for (const [i, expected] of [0.5, -Math.SQRT1_2, 0.5].entries())
      expectNear(sign * axes[i]!, expected, ROUNDING);
  });

  test('axes are at right angles, and variances along them make up the matrix again', () => {
    const matrix = [4, 1.5, -0.8, 1.5, 2.25, 0.3, -0.8, 0.3, 1];
    const { variances, axes } = principalAxes(matrix);
    for (let i = 0; i < 3; i++)
      for (let j = 0; j < 3; j++) {
        let product = 0;
        let sum = 0;
        for (let k = 0; k < 3; k++) {
          product += axes[3 * i + k]! * axes[3 * j + k]!;
          sum += variances[k]! * axes[3 * k + i]! * axes[3 * k + j]!;
        }
        expect(product).toBeCloseTo(i === j ? 1 : 0, 12);
        expect(sum).toBeCloseTo(matrix[3 * i + j]!, 12);
      }
  });

  test('keeps a diagonal matrix and sorts it; a matrix of nothing has no variance', () => {
    expect([...principalAxes([1, 0, 0, 0, 9, 0, 0, 0, 4]).variances]).toEqual([9, 4, 1]);
    expect([...principalAxes(new Float64Array(9)).variances]).toEqual([0, 0, 0]);
  });

  test('splits variances of very different size', () => {
    // A turn by 30 degrees of diag(1e8, 1): both come back.
    const [c, s] = [Math.sqrt(0.75), 0.5];
    const off = c * s * (1e8 - 1);
    const { variances } = principalAxes([1e8 * c * c + s * s, off, off, 1e8 * s * s + c * c]);
    expectNear(variances[0], 1e8, ROUNDING);
    // eight digits are lost in forming the matrix
    expectNear(variances[1], 1, 1e-6);
  });
});
