import { expect, test } from 'vitest';
import { hedgesG } from '../../src/core/statistics/hedges-g.ts';
import { answered, expectNear, PRINTED } from './answers.ts';
import { MICE } from './mice.ts';

/** n values with exactly this mean and SD. */
function sampleWith(n: number, mean: number, sd: number): number[] {
  const half = sd * Math.sqrt((n - 1) / n);
  return Array.from({ length: n }, (_, i) => mean + (i % 2 === 0 ? half : -half));
}

test('two groups of 50 (Borenstein et al. 2009, ch. 4; values of reference.md B6)', () => {
  const answer = answered(hedgesG(sampleWith(50, 103, 5.5), sampleWith(50, 100, 4.5)));
  // The book uses J = 1 - 3/(4m - 1); the exact J differs by 2e-6 here.
  expectNear(answer.value, 0.5924415803, 1e-5);
  const standardError = (answer.high - answer.low) / (2 * 1.959963984540054);
  expectNear(standardError ** 2, 0.0411434792, 1e-5);
  expectNear((answer.high + answer.low) / 2, answer.value, 1e-13);
});

test('mouse data with the exact correction', () => {
  expectNear(answered(hedgesG(MICE.treated, MICE.control)).value, 0.5339485979, PRINTED);
  expectNear(answered(hedgesG(MICE.control, MICE.treated)).value, -0.5339485979, PRINTED);
});

test('what has no effect size is named', () => {
  expect(hedgesG([1], [1, 2])).toEqual({ reason: 'too-few', need: 2, have: 1 });
  expect(hedgesG([], [])).toEqual({ reason: 'too-few', need: 2, have: 0 });
  expect(hedgesG([1, 1], [2, 2])).toEqual({ reason: 'no-spread' });
  expect(hedgesG([1, 2], [Number.NaN, 2])).toEqual({ reason: 'not-finite', index: 0 });
});
