import { expect, test } from 'vitest';
import { holmAdjusted } from '../../src/core/statistics/holm.ts';
import { expectNear, ROUNDING } from './answers.ts';
import golden from './golden.json' with { type: 'json' };

test('holmAdjusted agrees with statsmodels, ties included, in the order given', () => {
  const adjusted = holmAdjusted(golden.holm.p);
  for (const [i, p] of golden.holm.adjusted.entries()) expectNear(adjusted[i], p, ROUNDING);
});

test('a family of one is left alone, an empty one is empty', () => {
  expect(holmAdjusted([0.03])).toEqual([0.03]);
  expect(holmAdjusted([])).toEqual([]);
});

test('tests without result keep their place and do not count', () => {
  const none = { reason: 'no-spread' } as const;
  expect(holmAdjusted([0.04, none, 0.01])).toEqual([0.04, none, 0.02]);
});

test('what is no p value is refused', () => {
  expect(() => holmAdjusted([0.1, Number.NaN])).toThrow(/NaN at 1/);
  expect(() => holmAdjusted([1.2])).toThrow(RangeError);
});
