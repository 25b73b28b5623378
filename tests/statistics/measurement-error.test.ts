import { expect, test } from 'vitest';
import {
  smallestDetectableChange,
  splitHalfReliability,
  standardErrorOfMeasurement,
} from '../../src/core/statistics/measurement-error.ts';
import { answered, expectNear } from './answers.ts';
import { LAW_SCHOOL } from './law-school.ts';

test('split-half reliability raises the correlation and its interval to full length', () => {
  const answer = answered(splitHalfReliability(LAW_SCHOOL.score, LAW_SCHOOL.grade));
  const raised = (r: number) => (2 * r) / (1 + r);
  // r and its Fisher interval: reference.md B3.
  expectNear(answer.value, raised(0.7763744912894073), 1e-13);
  expectNear(answer.low, raised(0.438510824963), 1e-9);
  expectNear(answer.high, raised(0.921964755965), 1e-9);
});

test('halves that disagree have reliability zero', () => {
  const answer = answered(splitHalfReliability([1, 2, 3, 4], [4, 3, 2, 1]));
  expect(answer).toMatchObject({ value: 0, low: 0, high: 0 });
});

// Percent of the mean, published with two decimals: Piscitelli et al. 2024, J Biomech 162:111902.
test.each([
  [24.57, 68.12],
  [26.8, 74.3],
  [12.49, 34.61],
])('smallest detectable change of SEM %d', (sem, change) => {
  expect(Math.abs(smallestDetectableChange(sem) - change)).toBeLessThan(0.03);
});

test('standard error of measurement', () => {
  expectNear(standardErrorOfMeasurement(10, 0.84), 4, 1e-14); // 10 sqrt(0.16)
  expect(standardErrorOfMeasurement(10, 1)).toBe(0);
  expect(() => standardErrorOfMeasurement(10, 1.2)).toThrow(/reliability 1.2/);
  expect(() => standardErrorOfMeasurement(Number.NaN, 0.5)).toThrow(RangeError);
  expect(() => smallestDetectableChange(-1)).toThrow(RangeError);
});

test('too few or constant halves are named', () => {
  expect(splitHalfReliability([1, 2, 3], [1, 2, 3])).toEqual({
    reason: 'too-few',
    need: 4,
    have: 3,
  });
  expect(splitHalfReliability([1, 1, 1, 1], [1, 2, 3, 4])).toEqual({ reason: 'no-spread' });
});
