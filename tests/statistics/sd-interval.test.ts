import { expect, test } from 'vitest';
import { meanInterval } from '../../src/core/statistics/mean-interval.ts';
import { sdInterval } from '../../src/core/statistics/sd-interval.ts';
import { answered, expectNear, PRINTED } from './answers.ts';

// reference.md section A, computed with scipy 1.17.1.
test.each([
  [10, 0.6878352067, 1.8256101825],
  [20, 0.7604903943, 1.4605716362],
  [40, 0.8191610189, 1.2840354908],
])('interval of an SD from %i values', (n, low, high) => {
  const values = Array.from({ length: n }, (_, i) => i % 7);
  const answer = answered(sdInterval(values));
  expectNear(answer.low / answer.value, low, PRINTED);
  expectNear(answer.high / answer.value, high, PRINTED);
  expect(answer).toMatchObject({ n, level: 0.95 });
});

test('an SD without interval is named', () => {
  expect(sdInterval([1])).toEqual({ reason: 'too-few', need: 2, have: 1 });
  expect(sdInterval([0.3, 0.3, 0.3])).toEqual({ reason: 'no-spread' });
  expect(sdInterval([1, Number.NaN])).toEqual({ reason: 'not-finite', index: 1 });
  expect(() => sdInterval([1, 2, 3], 95)).toThrow(/level 95/);
  expect(() => meanInterval([1, 2, 3], Number.NaN)).toThrow(/level NaN/);
});
