import { describe, expect, test } from 'vitest';
import { spreadInterval } from '../../src/core/statistics/spread-interval.ts';
import { answered, expectNear, ROUNDING } from './answers.ts';

describe('spreadInterval', () => {
  test('of 0, 1, 2, 6 by hand', () => {
    // Variances with one left out, 1/2 sum of squared pair differences over 3: {1,2,6} 7, {0,2,6} 28/3, {0,1,6} 31/3,
    // {0,1,2} 1. Half their logarithms; (m - 1)/m sum of squares; t(0.975, 3 df) = 3.182446.
    const logs = [7, 28 / 3, 31 / 3, 1].map((v) => Math.log(v) / 2);
    const mean = logs.reduce((sum, x) => sum + x, 0) / 4;
    const se = Math.sqrt((3 / 4) * logs.reduce((sum, x) => sum + (x - mean) ** 2, 0));
    const { value, low, high, n } = answered(spreadInterval([0, 1, 2, 6]));
    expectNear(value, Math.sqrt(83 / 12), ROUNDING);
    expectNear(Math.log(high / value), 3.182446 * se, 1e-6);
    expectNear(Math.log(value / low), 3.182446 * se, 1e-6);
    expect(n).toBe(4);
  });

  test('goes with the unit and not with the origin', () => {
    const plain = answered(spreadInterval([0, 1, 2, 6]));
    const turned = answered(spreadInterval([0, 1, 2, 6].map((x) => 100 - 10 * x)));
    expectNear(turned.high, 10 * plain.high, 1e-9);
  });

  test('says why there is none', () => {
    expect(spreadInterval([])).toEqual({ reason: 'too-few', need: 3, have: 0 });
    expect(spreadInterval([1, 2])).toEqual({ reason: 'too-few', need: 3, have: 2 });
    expect(spreadInterval([0.1, 0.1, 0.1])).toEqual({ reason: 'no-spread' });
    expect(spreadInterval([1, Number.NaN, 3])).toEqual({ reason: 'not-finite', index: 1 });
    // Without the last the others do not vary.
    expect(spreadInterval([1, 1, 1, 2])).toMatchObject({ reason: 'unstable' });
  });
});
