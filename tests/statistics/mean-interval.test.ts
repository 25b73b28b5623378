import { expect, test } from 'vitest';
import { meanInterval } from '../../src/core/statistics/mean-interval.ts';
import { answered, expectNear, ROUNDING } from './answers.ts';
import golden from './golden.json' with { type: 'json' };

test('meanInterval agrees with scipy.stats.t.interval', () => {
  const { sample, level, interval } = golden.meanInterval;
  const answer = answered(meanInterval(sample, level));
  expectNear(answer.low, interval[0]!, ROUNDING);
  expectNear(answer.high, interval[1]!, ROUNDING);
});

test('meanInterval of values alike is that value', () => {
  expect(meanInterval([0.1, 0.1, 0.1])).toMatchObject({ value: 0.1, low: 0.1, high: 0.1 });
});

test('meanInterval names what it lacks', () => {
  expect(meanInterval([])).toEqual({ reason: 'too-few', need: 2, have: 0 });
  expect(meanInterval([4])).toEqual({ reason: 'too-few', need: 2, have: 1 });
  expect(meanInterval([4, Number.NaN])).toEqual({ reason: 'not-finite', index: 1 });
});
