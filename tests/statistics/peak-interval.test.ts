import { expect, test } from 'vitest';
import { seededRandom } from '../../src/core/maths/random.ts';
import { peakInterval } from '../../src/core/statistics/peak-interval.ts';
import { answered } from './answers.ts';

const SMOOTHING = { span: 0.5, degree: 2 } as const;
const OPTIONS = { seed: 1, resamples: 400 };
const grid = Float64Array.from({ length: 81 }, (_, i) => -1 + i / 40);
const random = seededRandom(2);
const x = Float64Array.from({ length: 60 }, () => random.uniform(-1.2, 1.2));

test('a parabola without noise has its peak where it is, and no doubt about it', () => {
  const { value, low, high } = answered(
    peakInterval(
      x,
      x.map((v) => 5 - (v - 0.3) ** 2),
      grid,
      SMOOTHING,
      OPTIONS,
    ),
  );
  for (const end of [value, low, high]) expect(end).toBeCloseTo(0.3, 10);
});

test('noise opens the interval around the peak', () => {
  const y = x.map((v) => 5 - (v - 0.3) ** 2 + random.normal(0.2));
  const { value, low, high, n } = answered(peakInterval(x, y, grid, SMOOTHING, OPTIONS));
  expect(low).toBeLessThanOrEqual(0.3);
  expect(high).toBeGreaterThanOrEqual(0.3);
  expect(high - low).toBeGreaterThan(0.1);
  expect(value).toBeGreaterThanOrEqual(low);
  expect(n).toBe(60);
});

test('without enough different x there is no curve', () => {
  const two = x.map((v) => Math.sign(v));
  expect(peakInterval(two, x, grid, SMOOTHING, OPTIONS)).toEqual({ reason: 'collinear' });
  expect(peakInterval([1, 2], [1, 2], grid, SMOOTHING, OPTIONS)).toEqual({
    reason: 'too-few',
    need: 3,
    have: 2,
  });
});
