import { expect, test } from 'vitest';
import { seededRandom } from '../../src/core/maths/random.ts';
import { sweetSpot } from '../../src/core/measures/sweet-spot.ts';
import { answered } from '../statistics/answers.ts';

const OPTIONS = { seed: 1, resamples: 500 };
const random = seededRandom(6);
const reach = Float64Array.from({ length: 60 }, () => 0.95 + random.normal(0.03));
const noise = reach.map(() => random.normal(0.5));
const scores = (of: (reachM: number) => number) => reach.map((r, i) => of(r) + noise[i]!);

test('a parabola of points over reach has its sweet spot where it was put', () => {
  // 10 points at 0.96 m, one less at 2 cm from it.
  const found = sweetSpot(
    reach,
    scores((r) => 10 - ((r - 0.96) / 0.02) ** 2),
    OPTIONS,
  );
  expect(found.verdict.answer).toBe('found');
  const { bestM, fromM, toM } = found.place!;
  expect(bestM.low).toBeLessThanOrEqual(0.96);
  expect(bestM.high).toBeGreaterThanOrEqual(0.96);
  expect(Math.abs(fromM! - 0.94)).toBeLessThan(0.006);
  expect(Math.abs(toM! - 0.98)).toBeLessThan(0.006);
  const { reachM, fit, low, high } = answered(found.curve);
  expect([fit.length, low.length, high.length]).toEqual([61, 61, 61]);
  expect(Math.min(...reachM)).toBeGreaterThan(Math.min(...reach));
});

test('where the score has not fallen by a point, the range has no end', () => {
  // 0.2 points lost 3 cm (one SD) from the best reach, 0.54 at the 5th and 95th percentile.
  const steady = reach.map((r, i) => 10 - 0.2 * ((r - 0.95) / 0.03) ** 2 + 0.05 * noise[i]!);
  const { verdict, place } = sweetSpot(reach, steady, OPTIONS);
  expect(verdict.answer).toBe('found');
  expect([place!.fromM, place!.toM]).toEqual([null, null]);
});

test('flat and one-sided curves have no sweet spot yet', () => {
  const flat = sweetSpot(
    reach,
    scores(() => 6),
    OPTIONS,
  );
  expect([flat.verdict.answer, flat.place]).toEqual(['flat', null]);
  const rising = sweetSpot(
    reach,
    scores((r) => 6 + 60 * (r - 0.95)),
    OPTIONS,
  );
  expect([rising.verdict.answer, rising.place]).toEqual(['oneSided', null]);
  expect(rising.verdict.words).toContain('No sweet spot found yet');
});

test('constant scores, constant reach and small sets say why', () => {
  const full = sweetSpot(reach, new Float64Array(60).fill(10), OPTIONS);
  expect([full.test, full.place]).toEqual([{ reason: 'no-spread' }, null]);
  expect(full.verdict.words).toBe('No sweet spot found yet: all swings are alike.');
  expect(sweetSpot(new Float64Array(60).fill(0.9), noise, OPTIONS).verdict.answer).toBe('unknown');
  const twoReaches = reach.map((r) => (r > 0.95 ? 0.97 : 0.93));
  expect(sweetSpot(twoReaches, noise, OPTIONS).curve).toEqual({ reason: 'collinear' });
  for (const [n, have] of [
    [0, 'no ball has'],
    [1, 'only 1 ball has'],
    [2, 'only 2 balls have'],
    [14, 'only 14 balls have'],
  ] as const) {
    const found = sweetSpot(reach.slice(0, n), noise.slice(0, n), OPTIONS);
    expect(found.test).toEqual({ reason: 'too-few', need: 15, have: n });
    expect(found.verdict.words).toBe(`No sweet spot found yet: ${have} a score; 15 are needed.`);
  }
  expect(sweetSpot(reach.with(4, Number.NaN), noise, OPTIONS).test).toEqual({
    reason: 'not-finite',
    index: 4,
  });
});

test('scores in whole steps with many ties give the same answer twice', () => {
  const stepped = scores((r) => 10 - Math.abs(r - 0.95) / 0.01).map((p) => Math.round(p / 5) * 5);
  const found = sweetSpot(reach, stepped, OPTIONS);
  expect(found.verdict.answer).toBe('found');
  expect(sweetSpot(reach, stepped, OPTIONS)).toEqual(found);
});
