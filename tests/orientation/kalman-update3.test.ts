import fc from 'fast-check';
import { expect, it } from 'vitest';
import { solveSymmetric } from '../../src/core/maths/solve-symmetric.ts';
import { kalmanUpdate3 } from '../../src/core/orientation/kalman-update3.ts';

type Matrix = readonly number[][];

const times = (a: Matrix, b: Matrix) =>
  a.map((row) => b[0]!.map((_, j) => row.reduce((sum, x, k) => sum + x * b[k]![j]!, 0)));
const transposed = (a: Matrix) => a[0]!.map((_, j) => a.map((row) => row[j]!));
const plus = (a: Matrix, b: Matrix, sign = 1) =>
  a.map((row, i) => row.map((x, j) => x + sign * b[i]![j]!));

/** All three measurements at once. Source: Kalman 1960, doi 10.1115/1.3662552; here from memory. */
function atOnce(x: number[], p: Matrix, h: Matrix, e: number[], w: number[]) {
  const f = times(p, transposed(h));
  const s = plus(
    times(h, f),
    w.map((variance, i) => w.map((_, j) => (i === j ? variance : 0))),
  );
  // K' = S^-1 F', column by column
  const gain = f.map((row) => {
    const column = new Float64Array(3);
    expect(solveSymmetric(column, Float64Array.from(s.flat()), Float64Array.from(row))).toBe(true);
    return [...column];
  });
  return {
    x: x.map((value, i) => value + gain[i]!.reduce((sum, k, j) => sum + k * e[j]!, 0)),
    p: plus(p, times(gain, transposed(f)), -1).flat(),
  };
}

it('weighs three measurements one after another as all at once', () => {
  const number = fc.double({ min: -2, max: 2, noNaN: true });
  const three = fc.tuple(number, number, number);
  const matrix = fc.tuple(three, three, three);
  const variances = fc.array(fc.double({ min: 0.1, max: 10, noNaN: true }), {
    minLength: 3,
    maxLength: 3,
  });
  fc.assert(
    fc.property(three, matrix, matrix, three, variances, (x, root, h, e, w) => {
      const p = plus(times(root, transposed(root)), [
        [0.1, 0, 0],
        [0, 0.1, 0],
        [0, 0, 0.1],
      ]);
      const expected = atOnce(x, p, h, e, w);
      const state = Float64Array.from(x);
      const covariance = Float64Array.from(p.flat());
      const [rows, innovation] = [Float64Array.from(h.flat()), Float64Array.from(e)];
      kalmanUpdate3(state, covariance, rows, innovation, Float64Array.from(w));
      expected.x.forEach((value, i) => {
        expect(Math.abs(state[i]! - value)).toBeLessThan(1e-9);
      });
      expected.p.forEach((value, i) => {
        expect(Math.abs(covariance[i]! - value)).toBeLessThan(1e-9);
      });
    }),
  );
});
