import { expect, test } from 'vitest';
import { seededRandom } from '../../src/core/maths/random.ts';
import { type InteriorPeak, interiorPeak } from '../../src/core/statistics/interior-peak.ts';
import { answered } from './answers.ts';

const OPTIONS = { seed: 1, draws: 999 };
const random = seededRandom(5);
const x = Float64Array.from({ length: 30 }, () => random.uniform(-1, 1));
const noise = x.map(() => random.normal(0.05));
const peak = (y: ArrayLike<number>, of: ArrayLike<number> = x): InteriorPeak =>
  answered(interiorPeak(of, y, OPTIONS));
const withNoise = (value: (x: number) => number) => x.map((v, i) => value(v) + noise[i]!);

test('a tent rises and falls, as surely as so many shuffles can say', () => {
  expect(peak(withNoise((v) => -Math.abs(v)))).toEqual({
    pRelated: 1 / 1000,
    pRises: 1 / 1000,
    pFalls: 1 / 1000,
  });
});

test('a valley does neither', () => {
  const { pRelated, pRises, pFalls } = peak(withNoise(Math.abs));
  expect(pRelated).toBe(1 / 1000);
  expect(Math.min(pRises, pFalls)).toBeGreaterThan(0.5);
});

test('a line only rises or only falls', () => {
  const rising = peak(withNoise((v) => v));
  expect(rising.pRises).toBe(1 / 1000);
  expect(rising.pFalls).toBeGreaterThan(0.2);
  const falling = peak(withNoise((v) => -v));
  expect(falling.pFalls).toBe(1 / 1000);
  expect(falling.pRises).toBeGreaterThan(0.2);
});

test('units and order of the rows do not matter', () => {
  const y = withNoise((v) => -Math.abs(v - 0.2));
  const found = peak(y);
  expect(
    peak(
      y.map((v) => 7 + 3 * v),
      x.map((v) => 0.9 + 0.02 * v),
    ),
  ).toEqual(found);
  expect(peak(y.toReversed(), x.toReversed())).toEqual(found);
});

test('ties in scores and in x are no trouble', () => {
  const rounded = x.map((v) => Math.round(4 * v) / 4);
  const { pRises, pFalls } = peak(
    rounded.map((v) => (Math.abs(v) < 0.3 ? 10 : 5)),
    rounded,
  );
  expect(Math.max(pRises, pFalls)).toBeLessThan(0.05);
  const two = peak(rounded, x.map(Math.sign));
  expect([two.pRises, two.pFalls]).toEqual([1, 1]);
});

test('what cannot be asked is named', () => {
  expect(interiorPeak([1, 2], [1, 2], OPTIONS)).toEqual({ reason: 'too-few', need: 10, have: 2 });
  expect(interiorPeak(x, new Float64Array(30).fill(4), OPTIONS)).toEqual({ reason: 'no-spread' });
  expect(interiorPeak(new Float64Array(30).fill(4), x, OPTIONS)).toEqual({ reason: 'no-spread' });
  const missing = x.with(3, Number.NaN);
  expect(interiorPeak(missing, x, OPTIONS)).toEqual({ reason: 'not-finite', index: 3 });
});
