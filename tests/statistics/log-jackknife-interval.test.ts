import { expect, test } from 'vitest';
import { logJackknifeInterval } from '../../src/core/statistics/log-jackknife-interval.ts';
import { checkedCovariance } from '../../src/core/statistics/moments.ts';
import { takeRows } from '../../src/core/statistics/resampling.ts';
import { answered, expectNear, ROUNDING } from './answers.ts';
import { MICE } from './mice.ts';

const both = [...MICE.treated, ...MICE.control];
const variance = (rows: Int32Array) => {
  const values = takeRows(both, rows);
  return checkedCovariance(values, values);
};

// Expected values: make-jackknife.py.
test('a variance of one group', () => {
  const answer = answered(logJackknifeInterval([7], variance));
  expectNear(answer.value, 4457.809523809524, ROUNDING);
  expectNear(answer.low, 1070.3446941845568, ROUNDING);
  expectNear(answer.high, 18566.04312473978, ROUNDING);
  expect(answer.n).toBe(7);
});

test('a ratio of two SDs, degrees of freedom by Satterthwaite', () => {
  const ratio = (a: Int32Array, b: Int32Array) => Math.sqrt(variance(a) / variance(b));
  const answer = answered(logJackknifeInterval([7, 9], (a, b) => ratio(a!, b!)));
  expectNear(answer.value, 1.571878896378089, ROUNDING);
  expectNear(answer.low, 0.5208688622306833, ROUNDING);
  expectNear(answer.high, 4.743618680328265, ROUNDING);
  expect(answer.n).toBe(16);
  const turned = answered(logJackknifeInterval([7, 9], (a, b) => 1 / ratio(a!, b!)));
  expectNear(turned.low, 1 / answer.high, ROUNDING);
});

test('what has no interval is named', () => {
  expect(logJackknifeInterval([2], variance)).toEqual({ reason: 'too-few', need: 3, have: 2 });
  expect(logJackknifeInterval([9], () => 0)).toEqual({ reason: 'no-spread' });
  expect(logJackknifeInterval([9], () => Number.NaN)).toEqual({ reason: 'no-spread' });
  // Nothing is left without the only value that differs.
  const oneOff = [1, 1, 1, 5];
  const spread = (rows: Int32Array) => {
    const values = takeRows(oneOff, rows);
    return checkedCovariance(values, values);
  };
  expect(logJackknifeInterval([4], spread)).toEqual({ reason: 'unstable', failed: 1, of: 4 });
  expect(() => logJackknifeInterval([9], variance, 95)).toThrow(RangeError);
});
