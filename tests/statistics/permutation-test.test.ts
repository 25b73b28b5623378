import { describe, expect, test } from 'vitest';
import { seededRandom } from '../../src/core/maths/random.ts';
import type { Unavailable } from '../../src/core/statistics/estimate.ts';
import { mean, standardDeviation } from '../../src/core/statistics/moments.ts';
import { permutationTest, signFlipTest } from '../../src/core/statistics/permutation-test.ts';
import { takeRows } from '../../src/core/statistics/resampling.ts';
import { answered } from './answers.ts';
import { MICE } from './mice.ts';

const SEED = { seed: 7 };

/** Difference of means of two groups of rows of one column. */
function meanDifference(column: readonly number[]) {
  return (a: Int32Array, b: Int32Array) =>
    answered(mean(takeRows(column, a))) - answered(mean(takeRows(column, b)));
}

// Darwin's maize, differences in eighths of an inch (Fisher 1935, section 21).
const MAIZE = [49, -67, 8, 16, 6, 23, 28, 41, 14, 29, 56, 24, 75, 60, -48];

describe('signFlipTest', () => {
  test('Darwin’s maize: 863 of 32768 patterns reach the sum, p = 5.267 %', () => {
    const answer = answered(signFlipTest(MAIZE, SEED));
    expect(answer).toEqual({ p: 1726 / 32768, rearrangements: 32768, exact: true });
  });

  test('scale and sign do not matter, nor does rounding make or break ties', () => {
    const scaled = MAIZE.map((value) => -0.1 * value);
    expect(answered(signFlipTest(scaled, SEED)).p).toBe(1726 / 32768);
  });

  test('random signs approach the exact p', () => {
    // Two zero differences leave the distribution as it is but make 17 pairs.
    const answer = answered(signFlipTest([...MAIZE, 0, 0], { seed: 3, draws: 20_000 }));
    expect(answer).toMatchObject({ exact: false, rearrangements: 20_000 });
    // Four standard errors of a share of 0.0527 in 20 000.
    expect(Math.abs(answer.p - 1726 / 32768)).toBeLessThan(0.0064);
  });

  test('what cannot be tested is named', () => {
    expect(signFlipTest([1, 2], SEED)).toEqual({ reason: 'too-few', need: 6, have: 2 });
    expect(signFlipTest([], SEED)).toEqual({ reason: 'too-few', need: 6, have: 0 });
    expect(signFlipTest(new Array(8).fill(0), SEED)).toEqual({ reason: 'no-spread' });
    expect(signFlipTest([1, 2, Number.NaN, 4, 5, 6], SEED)).toEqual({
      reason: 'not-finite',
      index: 2,
    });
    expect(() => signFlipTest(new Array(30).fill(1), { seed: 1, draws: 0 })).toThrow(/0 random/);
  });
});

describe('permutationTest', () => {
  const pooled = [...MICE.treated, ...MICE.control];

  test('mouse data: 3184 of 11440 divisions differ as much (reference.md B10)', () => {
    const answer = answered(permutationTest(7, 9, meanDifference(pooled), SEED));
    expect(answer).toEqual({ p: 3184 / 11440, rearrangements: 11440, exact: true });
    const swapped = [...MICE.control, ...MICE.treated];
    expect(answered(permutationTest(9, 7, meanDifference(swapped), SEED)).p).toBe(3184 / 11440);
  });

  test('every division is seen once: 70 of four and four, two of them extreme', () => {
    const seen = new Set<string>();
    const values = [1, 2, 3, 4, 11, 12, 13, 14];
    const difference = meanDifference(values);
    const answer = answered(
      permutationTest(
        4,
        4,
        (a, b) => {
          expect([...a, ...b].toSorted((i, j) => i - j)).toEqual([0, 1, 2, 3, 4, 5, 6, 7]);
          seen.add(a.toSorted().join());
          return difference(a, b);
        },
        SEED,
      ),
    );
    expect(seen.size).toBe(70);
    expect(answer).toEqual({ p: 2 / 70, rearrangements: 70, exact: true });
  });

  test('under no difference, p below 0.05 comes up in 5 % of experiments', () => {
    const random = seededRandom(21);
    const runs = 300;
    let rejected = 0;
    for (let run = 0; run < runs; run++) {
      const column = Array.from({ length: 24 }, () => random.normal(1));
      const test = permutationTest(12, 12, meanDifference(column), { seed: run, draws: 199 });
      if (answered(test).p <= 0.05) rejected++;
    }
    // Binomial SE at 300 runs is 1.3 %; three of them.
    expect(rejected / runs).toBeGreaterThan(0.011);
    expect(rejected / runs).toBeLessThan(0.089);
  });

  test('a clear difference in spread is found; same seed, same p', () => {
    const random = seededRandom(5);
    const column = Array.from({ length: 40 }, (_, i) => random.normal(i < 20 ? 1 : 4));
    const logRatio = (a: Int32Array, b: Int32Array) =>
      Math.log(
        answered(standardDeviation(takeRows(column, a))) /
          answered(standardDeviation(takeRows(column, b))),
      );
    const answer = answered(permutationTest(20, 20, logRatio, { seed: 1, draws: 999 }));
    expect(answer.p).toBe(1 / 1000); // (0 + 1)/(999 + 1)
    expect(permutationTest(20, 20, logRatio, { seed: 1, draws: 999 })).toEqual(answer);
  });

  test('rearrangements without value count against the difference', () => {
    const sometimes = (a: Int32Array): number | Unavailable =>
      a.includes(0) ? 1 : { reason: 'no-spread' };
    expect(answered(permutationTest(4, 4, sometimes, SEED)).p).toBe(1);
  });

  test('what cannot be tested is named', () => {
    expect(permutationTest(3, 20, () => 1, SEED)).toEqual({ reason: 'too-few', need: 4, have: 3 });
    expect(permutationTest(0, 0, () => 1, SEED)).toEqual({ reason: 'too-few', need: 4, have: 0 });
    const none = (): Unavailable => ({ reason: 'no-spread' });
    expect(permutationTest(5, 5, none, SEED)).toEqual({ reason: 'no-spread' });
  });
});
