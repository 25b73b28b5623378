import { describe, expect, test } from 'vitest';
import { seededRandom } from '../../src/core/maths/random.ts';
import { bcaInterval } from '../../src/core/statistics/bootstrap-interval.ts';
import { checkedMean } from '../../src/core/statistics/moments.ts';
import { takeRows } from '../../src/core/statistics/resampling.ts';
import { smallSampleLevel } from '../../src/core/statistics/small-sample-level.ts';
import { answered } from './answers.ts';

describe('smallSampleLevel', () => {
  // Student's and the normal table: t = 2.2622, 2.0930, 2.0227; e.g. Phi(-2.2622 sqrt(10/9)) = Phi(-2.3846) = 0.00855.
  test.each([
    [10, 0.00855],
    [20, 0.01588],
    [40, 0.02026],
  ])('leaves thinner tails than 2.5 %% with %d rows', (n, tail) => {
    expect((1 - smallSampleLevel(0.95, n)) / 2).toBeCloseTo(tail, 4);
  });

  test('with many rows changes nothing', () => {
    expect(smallSampleLevel(0.95, 100_000)).toBeCloseTo(0.95, 4);
  });

  test('gives the bootstrap of a mean of ten what it promises', () => {
    const random = seededRandom(21);
    const runs = 1000;
    const held = [0, 0];
    for (let run = 0; run < runs; run++) {
      const x = Float64Array.from({ length: 10 }, () => random.normal(1));
      for (const [k, level] of [0.95, smallSampleLevel(0.95, 10)].entries()) {
        const mean = (rows: Int32Array) => checkedMean(takeRows(x, rows));
        const { low, high } = answered(
          bcaInterval([10], mean, { seed: run, resamples: 400, level }),
        );
        if (low <= 0 && 0 <= high) held[k]!++;
      }
    }
    // 90 % without (comment on LEAST_BOOTSTRAP_ROWS); the binomial SE of 95 % is 0.7 %.
    expect(held[0]! / runs).toBeLessThan(0.925);
    expect(held[1]! / runs).toBeGreaterThan(0.929);
    expect(held[1]! / runs).toBeLessThan(0.971);
  });

  test('refuses a level that makes no sense', () => {
    expect(() => smallSampleLevel(95, 10)).toThrow(RangeError);
  });
});
