import { describe, expect, it } from 'vitest';
import { seededRandom } from '../../src/core/maths/random.ts';
import { midToContact, narrowingRatio } from '../../src/core/measures/narrowing.ts';
import { reachBeforeContact, reachInPercent } from '../../src/core/measures/reach-table.ts';
import { isUnavailable } from '../../src/core/statistics/estimate.ts';
import { answered } from '../statistics/answers.ts';
import { swingOfReach, swingsOfModes, UNCORRELATED } from './hand-made-swings.ts';

const OPTIONS = { seed: 1, resamples: 200 };

describe('hand-made columns', () => {
  it('have mean 0, SD 1 and no correlation', () => {
    for (const [k, a] of UNCORRELATED.entries())
      for (const [l, b] of UNCORRELATED.entries()) {
        expect(a.reduce((sum, x) => sum + x, 0)).toBeCloseTo(0, 12);
        expect(a.reduce((sum, x, i) => sum + x * b[i]!, 0) / 11).toBeCloseTo(k === l ? 1 : 0, 12);
      }
  });
});

describe('narrowingRatio', () => {
  // Spread 30 mm until 40 %, then in a straight line down to 12 mm.
  const falls = (s: number) => 0.03 - 0.03 * Math.max(0, s - 0.4);

  it('is spread at contact over the widest, the floor taken off both in squares', () => {
    const { ratio, interval } = answered(
      narrowingRatio(reachInPercent(swingsOfModes([falls], 0.005)), OPTIONS),
    );
    expect(ratio).toBeCloseTo(Math.sqrt((12 ** 2 - 5 ** 2) / (30 ** 2 - 5 ** 2)), 12);
    // One course times one number per swing: every resample has the same ratio.
    expect(isUnavailable(interval)).toBe(false);
    const { ratio: plain } = answered(
      narrowingRatio(reachInPercent(swingsOfModes([falls], 0)), OPTIONS),
    );
    expect(plain).toBeCloseTo(12 / 30, 12);
  });

  it('is the same in milliseconds when all swings take the same time', () => {
    const table = answered(reachBeforeContact(swingsOfModes([(s) => 0.03 - 0.018 * s], 0)));
    expect(answered(narrowingRatio(table, OPTIONS)).ratio).toBeCloseTo(0.4, 12);
  });

  it('is 0 at a contact within the floor, and unknown where nothing exceeds the floor', () => {
    const within = narrowingRatio(reachInPercent(swingsOfModes([falls], 0.012001)), OPTIONS);
    expect(answered(within).ratio).toBe(0);
    const buried = narrowingRatio(reachInPercent(swingsOfModes([falls], 0.031)), OPTIONS);
    expect(buried).toEqual({ reason: 'no-spread' });
    const constant = narrowingRatio(reachInPercent(swingsOfModes([() => 0], 0)), OPTIONS);
    expect(constant).toEqual({ reason: 'no-spread' });
  });

  it('finds the widest anew in every resample', () => {
    // Two humps of equal spread: which one is the widest depends on the resample. With either chosen once and
    // for all, the ratio to it would exceed 1 in some resamples of this set.
    const hump = (centre: number) => (s: number) => 0.02 * Math.exp(-(((s - centre) / 0.1) ** 2));
    const table = reachInPercent(swingsOfModes([hump(0.2), hump(0.6), hump(1)], 0));
    const { ratio, interval } = answered(narrowingRatio(table, { seed: 3, resamples: 2000 }));
    expect(ratio).toBeCloseTo(1, 3);
    expect(answered(interval).high).toBeLessThanOrEqual(1);
    expect(answered(interval).low).toBeLessThan(0.95);
  });

  it('gives no interval below ten swings', () => {
    const swings = swingsOfModes([falls]).slice(0, 9);
    expect(answered(narrowingRatio(reachInPercent(swings), OPTIONS)).interval).toEqual({
      reason: 'too-few',
      need: 10,
      have: 9,
    });
  });

  it.each([20, 40])(
    'holds the true ratio in about 95 of 100 intervals at n = %i',
    { timeout: 30_000 },
    (n) => {
      // Simulated truth: independent normal sizes of four smooth humps, the second the widest; an error of 2 mm
      // that lasts a swing. Other players: coverage-cases.ts. 200 sets, so the share has a standard error of 2 %.
      const humps = [0.02, 0.03, 0.015, 0.012].map((size, k) =>
        Float64Array.from(
          { length: 101 },
          (_, p) => size * Math.exp(-0.5 * ((p / 100 - [0, 0.4, 0.75, 1][k]!) / 0.15) ** 2),
        ),
      );
      const variance = Float64Array.from({ length: 101 }, (_, p) =>
        humps.reduce((sum, hump) => sum + hump[p]! ** 2, 0),
      );
      const truth = Math.sqrt(variance[100]! / Math.max(...variance));
      const random = seededRandom(n);
      const plain = swingOfReach(() => 0.9);
      const drawn = () => {
        const reachCurveM = new Float64Array(101).fill(0.9 + random.normal(0.002));
        for (const hump of humps) {
          const size = random.normal(1);
          for (let p = 0; p <= 100; p++) reachCurveM[p]! += size * hump[p]!;
        }
        return { ...plain, reachCurveM };
      };
      let held = 0;
      for (let set = 0; set < 200; set++) {
        const table = reachInPercent(Array.from({ length: n }, drawn));
        const { interval } = answered(narrowingRatio(table, { seed: set, resamples: 200 }));
        const { low, high } = answered(interval);
        if (low <= truth && truth <= high) held++;
      }
      expect(held / 200).toBeGreaterThanOrEqual(0.9);
      expect(held / 200).toBeLessThanOrEqual(0.98);
    },
  );
});

describe('midToContact', () => {
  it('compares the variances at 50 % and contact', () => {
    // Uncorrelated: 25 mm at 50 %, 10 mm at contact. F = 6.25, t = 5.25 sqrt(10) / (2 sqrt(6.25)).
    const swings = swingsOfModes([(s) => 0.05 * (1 - s), (s) => 0.01 * Math.max(0, 2 * s - 1)]);
    const { ratio, withoutNarrowing } = midToContact(reachInPercent(swings));
    expect(answered(ratio).value).toBeCloseTo(6.25, 9);
    expect(answered(ratio).t).toBeCloseTo((5.25 * Math.sqrt(10)) / 5, 9);
    expect(withoutNarrowing).toBe(1);
  });

  it('expects more at mid-swing where the floor is higher there, never less where it is lower', () => {
    const swings = swingsOfModes([() => 0.005]);
    const floor = (mid: number, contact: number) =>
      swings.map((swing) => ({
        ...swing,
        reachCurveNoiseM: Float64Array.from({ length: 101 }, (_, p) => (p === 100 ? contact : mid)),
      }));
    // True variance at contact 25 - 9 = 16; at mid-swing 16 + 16 = 32 would be observed.
    const higher = midToContact(reachInPercent(floor(0.004, 0.003)));
    expect(higher.withoutNarrowing).toBeCloseTo(32 / 25, 12);
    expect(midToContact(reachInPercent(floor(0.003, 0.004))).withoutNarrowing).toBe(1);
  });

  it('has no answer, but no exception either, for constant reach', () => {
    const { ratio, withoutNarrowing } = midToContact(reachInPercent(swingsOfModes([() => 0])));
    expect(ratio).toEqual({ reason: 'no-spread' });
    expect(withoutNarrowing).toBe(1);
  });
});
