import { expect, test } from 'vitest';
import { classifyByScore, usualThresholds } from '../../src/core/measures/accuracy-classes.ts';
import { scoreOfSet } from '../../src/core/measures/score.ts';
import { answered, expectNear } from '../statistics/answers.ts';

function scoreOf(points: readonly (number | null)[]) {
  const swings = points.map((p, i) => ({
    points: p,
    landingM: i < 3 ? ([i, 1] as const) : null,
  }));
  return scoreOfSet(swings, answered(classifyByScore(swings, usualThresholds(10))));
}

test('mean with Student’s interval, hits with Wilson’s', () => {
  const { n, mean, hitRate, landing } = scoreOf([10, 6, null, 10, 2, 7, 10, 10, 9, 8, 8]);
  expect(n).toBe(10);
  // Mean 8, SD sqrt(58/9); t.975(9) = 2.262157 of printed tables.
  const { value, low, high } = answered(mean);
  expect(value).toBe(8);
  expectNear(high - low, 2 * 2.262157 * Math.sqrt(58 / 9 / 10), 1e-6);
  // 4 of 10: 0.1682 to 0.6873, as printed for Wilson's interval (from memory).
  expect(answered(hitRate).value).toBe(0.4);
  expect(answered(hitRate).low).toBeCloseTo(0.1682, 4);
  expect(answered(hitRate).high).toBeCloseTo(0.6873, 4);
  expect(answered(landing).n).toBe(3);
});

test('constant scores and empty sets say why', () => {
  const full = scoreOf([10, 10, 10, 10]);
  expect(full.mean).toEqual({ reason: 'no-spread' });
  expect(answered(full.hitRate).value).toBe(1);
  expect(answered(full.hitRate).low).toBeLessThan(0.6);
  const none = scoreOf([]);
  expect(none.mean).toEqual({ reason: 'too-few', need: 2, have: 0 });
  expect(none.hitRate).toEqual({ reason: 'too-few', need: 1, have: 0 });
  expect(none.landing).toEqual({ reason: 'too-few', need: 2, have: 0 });
  expect(scoreOf([7]).mean).toEqual({ reason: 'too-few', need: 2, have: 1 });
});
