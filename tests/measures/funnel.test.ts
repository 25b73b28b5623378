import { describe, expect, it } from 'vitest';
import { type ReachCurve, summariseFunnel } from '../../src/core/measures/funnel.ts';
import { SWING_POINTS } from '../../src/core/swings/swing.ts';

/** A swing whose reach at each point is given by a function of the percentage. */
function swing(
  reach: (percent: number) => number,
  noise: (percent: number) => number = () => 0.002,
): ReachCurve {
  const column = (f: (percent: number) => number) =>
    Float64Array.from({ length: SWING_POINTS }, (_, percent) => f(percent));
  return { reachCurveM: column(reach), reachCurveNoiseM: column(noise) };
}

describe('summariseFunnel', () => {
  it('gives mean, sample SD and floor computed by hand at every point', () => {
    // At p %: reaches 0.9 + {0, 2, 4, 10} x p mm: mean 0.9 + 4 p mm, squared deviations 16, 4, 0, 36: SD sqrt(56/3) p mm.
    // Noise 3, 4, 5, 0 mm: root mean square sqrt(50/4) mm.
    const swings = [0, 2, 4, 10].map((slope, i) =>
      swing(
        (p) => 0.9 + (slope * p) / 1000,
        () => [3, 4, 5, 0][i]! / 1000,
      ),
    );
    const funnel = summariseFunnel(swings);
    expect(funnel.n).toBe(4);
    for (const p of [0, 1, 50, 100]) {
      expect(funnel.meanM[p]!).toBeCloseTo(0.9 + (4 * p) / 1000, 14);
      expect(funnel.spreadM[p]!).toBeCloseTo((Math.sqrt(56 / 3) * p) / 1000, 14);
      expect(funnel.floorM[p]!).toBeCloseTo(Math.sqrt(50 / 4) / 1000, 15);
    }
    expect(funnel.spreadM.length).toBe(101);
  });

  it.each([
    // NIST StRD, certified mean and SD (n-1); data and values as in reference.md A:
    // mathnet/mathnet-numerics@84e9432:data/NIST/NumAcc{1,2,3,4}.dat.
    // NumAcc4 is not representable in double: attainable 0.10000000055879 and so 1e-7 relative.
    ['NumAcc1', [10000001, 10000003, 10000002], 10000002, 1, 1e-15],
    ['NumAcc2', numAcc(1.2, 1.1, 1.3), 1.2, 0.1, 1e-13],
    ['NumAcc3', numAcc(1000000.2, 1000000.1, 1000000.3), 1000000.2, 0.1, 1e-8],
    ['NumAcc4', numAcc(10000000.2, 10000000.1, 10000000.3), 10000000.2, 0.1, 1e-7],
  ] as const)('gives the certified mean and SD of %s', (_, data, mean, sd, relative) => {
    const funnel = summariseFunnel(data.map((y) => swing(() => y)));
    expect(Math.abs(funnel.meanM[37]! / mean - 1)).toBeLessThan(1e-14);
    expect(Math.abs(funnel.spreadM[37]! / sd - 1)).toBeLessThan(relative);
  });

  it('knows no spread from one swing and nothing from none', () => {
    const one = summariseFunnel([swing((p) => 0.8 + p / 1000)]);
    expect(one.n).toBe(1);
    expect([...one.spreadM].every(Number.isNaN)).toBe(true);
    expect(one.meanM[100]!).toBeCloseTo(0.9, 15);
    expect(one.floorM[0]!).toBeCloseTo(0.002, 15);
    const none = summariseFunnel([]);
    expect(none.n).toBe(0);
    for (const column of [none.spreadM, none.meanM, none.floorM]) {
      expect(column.length).toBe(101);
      expect([...column].every(Number.isNaN)).toBe(true);
    }
  });

  it('gives zero, not NaN, for swings that are all alike', () => {
    // The mean of equal numbers may round away from them: what is left under the root must not turn negative.
    for (let n = 2; n <= 60; n++) {
      for (let i = 0; i < 40; i++) {
        const reach = 0.5 + 0.0137 * i;
        const spread = summariseFunnel(new Array<ReachCurve>(n).fill(swing(() => reach)))
          .spreadM[0]!;
        expect(spread).toBeGreaterThanOrEqual(0);
        expect(spread).toBeLessThan(1e-14);
      }
    }
  });
});

/** One leading value, then 500 pairs. */
function numAcc(first: number, low: number, high: number): number[] {
  return [first, ...Array.from({ length: 500 }, () => [low, high]).flat()];
}
