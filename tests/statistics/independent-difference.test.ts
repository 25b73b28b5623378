import { expect, test } from 'vitest';
import { independentDifference } from '../../src/core/statistics/independent-difference.ts';
import { wilsonInterval } from '../../src/core/statistics/wilson-interval.ts';
import { answered } from './answers.ts';

// Newcombe 1998, table II, method 10, four decimals (from memory).
test.each([
  [56, 70, 48, 80, 0.0524, 0.3339],
  [9, 10, 3, 10, 0.1705, 0.809],
])('%i of %i less %i of %i', (a, m, b, n, low, high) => {
  const answer = independentDifference(
    answered(wilsonInterval(a, m)),
    answered(wilsonInterval(b, n)),
  );
  expect(answer.value).toBeCloseTo(a / m - b / n, 12);
  expect(Math.abs(answer.low - low)).toBeLessThan(6e-5);
  expect(Math.abs(answer.high - high)).toBeLessThan(6e-5);
  expect(answer.n).toBe(m + n);
});

test('levels that differ are refused', () => {
  expect(() =>
    independentDifference(answered(wilsonInterval(1, 2)), answered(wilsonInterval(1, 2, 0.9))),
  ).toThrow(/0.95 and 0.9/);
});
