import { expect, test } from 'vitest';
import { welchDifference, welchStatistic } from '../../src/core/statistics/welch-difference.ts';
import { answered, expectNear, ROUNDING } from './answers.ts';
import { MICE } from './mice.ts';

// Expected values: make-comparison.py.
test('the mice: difference, interval and statistic of scipy', () => {
  const answer = answered(welchDifference(MICE.treated, MICE.control));
  expectNear(answer.value, 30.6349206349206, ROUNDING);
  expectNear(answer.low, -34.15278514001334, ROUNDING);
  expectNear(answer.high, 95.42262640985462, ROUNDING);
  expect(answer.n).toBe(16);
  expectNear(welchStatistic(MICE.treated, MICE.control), 1.0587105873754061, ROUNDING);
});

test('one constant group leaves the uncertainty of the other', () => {
  const answer = answered(welchDifference([10, 10, 10], [1, 2, 3]));
  // t(0.975, 2) / sqrt(3), t from a table.
  expectNear(answer.high - answer.value, 4.302652729911275 / Math.sqrt(3), 1e-9);
});

test('what has no difference is named', () => {
  expect(welchDifference([1], [1, 2])).toEqual({ reason: 'too-few', need: 2, have: 1 });
  expect(welchDifference([], [])).toEqual({ reason: 'too-few', need: 2, have: 0 });
  expect(welchDifference([0.1, 0.1, 0.1], [0.3, 0.3])).toEqual({ reason: 'no-spread' });
  expect(welchDifference([1, Number.NaN], [1, 2])).toEqual({ reason: 'not-finite', index: 1 });
  expect(welchStatistic([3, 3], [3, 3])).toBe(0);
  expect(welchStatistic([3, 3], [4, 4])).toEqual({ reason: 'no-spread' });
});
