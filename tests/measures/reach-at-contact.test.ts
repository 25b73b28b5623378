import { expect, test } from 'vitest';
import { seededRandom } from '../../src/core/maths/random.ts';
import { funnelBand, reachAtContact } from '../../src/core/measures/reach-at-contact.ts';
import { reachInPercent } from '../../src/core/measures/reach-table.ts';
import { answered, expectNear } from '../statistics/answers.ts';
import { swingOfReach, swingsOfModes } from './hand-made-swings.ts';

test('mean and SD of twelve hand-made swings, whose jackknife is known', () => {
  // Deviations of +-12 mm sqrt(11/12), six each: SD 12 mm; leaving out any one gives the same SD, so no doubt is seen.
  const { n, meanM, spreadM } = reachAtContact(swingsOfModes([() => 0.012]));
  expect(n).toBe(12);
  expectNear(answered(meanM).value, 0.9, 1e-12);
  // Student: t(11) = 2.200985 of 12 mm / sqrt 12.
  expectNear(answered(meanM).high - 0.9, (2.200985 * 0.012) / Math.sqrt(12), 1e-6);
  expectNear(answered(spreadM).value, 0.012, 1e-12);
});

test('the band of the funnel is that of contact at its end, and holds the spread everywhere', () => {
  const random = seededRandom(4);
  const swings = Array.from({ length: 20 }, () => {
    const [a, b] = [random.normal(0.02), random.normal(0.01)];
    return swingOfReach((s) => 0.9 + a * (1 - s) + b * s);
  });
  const table = reachInPercent(swings);
  const { lowM, highM } = funnelBand(table);
  const { low, high } = answered(reachAtContact(swings).spreadM);
  expectNear(lowM[100], low, 1e-9);
  expectNear(highM[100], high, 1e-9);
  for (let p = 0; p <= 100; p++) {
    expect(lowM[p]!).toBeLessThan(table.funnel.spreadM[p]!);
    expect(highM[p]!).toBeGreaterThan(table.funnel.spreadM[p]!);
  }
});

test('of no swing, one, two, alike or with a missing value it says why', () => {
  const of = (reachM: readonly number[]) =>
    reachAtContact(reachM.map((r) => swingOfReach(() => r)));
  for (const n of [0, 1])
    expect(of([0.9, 0.91].slice(0, n)).meanM).toEqual({ reason: 'too-few', need: 2, have: n });
  expect(of([0.9, 0.91]).spreadM).toEqual({ reason: 'too-few', need: 3, have: 2 });
  expect(of([0.9, 0.9, 0.9, 0.9])).toEqual({
    n: 4,
    meanM: { reason: 'no-spread' },
    spreadM: { reason: 'no-spread' },
  });
  expect(of([0.9, Number.NaN, 0.8]).spreadM).toEqual({ reason: 'not-finite', index: 1 });
  const { lowM } = funnelBand(reachInPercent(swingsOfModes([(s) => 0.01 * s])));
  expect(lowM[0]).toBeNaN();
});
