import { describe, expect, test } from 'vitest';
import { seededRandom } from '../../src/core/maths/random.ts';
import { participationRatio } from '../../src/core/statistics/participation-ratio.ts';
import { answered } from './answers.ts';

describe('participationRatio', () => {
  test('from many rows is that of the true variances', () => {
    // (1 + .25 + .04)^2 / (1 + .0625 + .0016); 40 000 rows leave a standard error below 0.01
    const random = seededRandom(5);
    const columns = [1, 0.5, 0.2].map((sd) =>
      Float64Array.from({ length: 40_000 }, () => random.normal(sd)),
    );
    expect(answered(participationRatio(columns))).toBeCloseTo(1.29 ** 2 / 1.0641, 1);
  });

  test('from few rows is right on average, where the plain ratio is not', () => {
    // Three equal independent columns, n = 15: truth 3. Its plain ratio is about 3/(1 + 4/14) = 2.3.
    const random = seededRandom(6);
    let sum = 0;
    for (let i = 0; i < 1000; i++)
      sum += answered(
        participationRatio(
          [0, 1, 2].map(() => Float64Array.from({ length: 15 }, () => random.normal(1))),
        ),
      );
    // a ratio of two unbiased numbers keeps a small bias
    expect(sum / 1000).toBeGreaterThan(2.9);
    expect(sum / 1000).toBeLessThan(3.15);
  });

  test('is about 1 for columns on one line, and does not depend on unit or origin', () => {
    const random = seededRandom(7);
    const x = Float64Array.from({ length: 30 }, () => random.normal(1));
    const line = [x, x.map((value) => 2 * value)];
    expect(Math.abs(answered(participationRatio(line)) - 1)).toBeLessThan(0.05);
    const shifted = line.map((column) => column.map((value) => 50 * value + 7));
    expect(answered(participationRatio(shifted))).toBeCloseTo(
      answered(participationRatio(line)),
      10,
    );
  });

  test('has no answer for few rows or no spread', () => {
    const few = [1, 2, 3, 4];
    expect(participationRatio([few, few, few])).toEqual({ reason: 'too-few', need: 5, have: 4 });
    const still = new Float64Array(8);
    expect(participationRatio([still, still])).toEqual({ reason: 'no-spread' });
  });
});
