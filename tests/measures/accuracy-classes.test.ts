import { expect, test } from 'vitest';
import { classifyByScore, usualThresholds } from '../../src/core/measures/accuracy-classes.ts';
import { answered } from '../statistics/answers.ts';

const swings = [10, null, 5, 4.9, 0, 10, 12].map((points) => ({ points }));

test('full points are accurate, at least half fair, less poor, not scored none', () => {
  const { rows, scored, points } = answered(classifyByScore(swings, usualThresholds(10)));
  expect([...rows.accurate]).toEqual([0, 5, 6]);
  expect([...rows.fair]).toEqual([2]);
  expect([...rows.poor]).toEqual([3, 4]);
  expect([...scored]).toEqual([0, 2, 3, 4, 5, 6]);
  expect([...points]).toEqual([10, 5, 4.9, 0, 10, 12]);
});

test('a task may set its own thresholds', () => {
  const { rows } = answered(classifyByScore(swings, { accurateFrom: 5, fairFrom: 1 }));
  expect([...rows.accurate]).toEqual([0, 2, 5, 6]);
  expect([...rows.poor]).toEqual([4]);
});

test('no swings, no classes; missing points and senseless thresholds are named', () => {
  expect(answered(classifyByScore([], usualThresholds(3))).scored.length).toBe(0);
  expect(classifyByScore([{ points: 1 }, { points: Number.NaN }], usualThresholds(3))).toEqual({
    reason: 'not-finite',
    index: 1,
  });
  expect(() => classifyByScore(swings, { accurateFrom: 3, fairFrom: 3 })).toThrow(RangeError);
  expect(() => usualThresholds(0)).toThrow(RangeError);
});
