import { expect, test } from 'vitest';
import { wilsonInterval } from '../../src/core/statistics/wilson-interval.ts';
import { answered, expectNear, ROUNDING } from './answers.ts';
import golden from './golden.json' with { type: 'json' };

test.each(golden.wilson)('%i of %i agrees with statsmodels', (hits, n, low, high) => {
  const answer = answered(wilsonInterval(hits!, n!));
  expectNear(answer.low, low!, ROUNDING);
  expectNear(answer.high, high!, ROUNDING);
});

test('shares of nothing and impossible counts', () => {
  expect(wilsonInterval(0, 0)).toEqual({ reason: 'too-few', need: 1, have: 0 });
  expect(() => wilsonInterval(3, 2)).toThrow(/3 hits of 2/);
  expect(() => wilsonInterval(0.5, 2)).toThrow(RangeError);
  expect(() => wilsonInterval(Number.NaN, 2)).toThrow(RangeError);
});
