import { describe, expect, it } from 'vitest';
import { seededRandom } from '../../src/core/maths/random.ts';
import { funnelOfCurves, type ReachCurve } from '../../src/core/measures/funnel.ts';
import {
  addSwing,
  createRunningFunnel,
  funnelSoFar,
  removeSwing,
} from '../../src/core/measures/running-funnel.ts';

const POINTS = 101;

function curve(reach: (p: number) => number, noiseM = 0.002): ReachCurve {
  return {
    reachCurveM: Float64Array.from({ length: POINTS }, (_, p) => reach(p)),
    reachCurveNoiseM: new Float64Array(POINTS).fill(noiseM),
  };
}

/** Largest difference of two columns; NaN at one place only is a difference. */
function apart(a: Float64Array, b: Float64Array): number {
  return a.reduce((most, x, p) => {
    if (Number.isNaN(x) && Number.isNaN(b[p]!)) return most;
    const difference = Math.abs(x - b[p]!);
    return Number.isNaN(difference) ? Infinity : Math.max(most, difference);
  }, 0);
}

describe('running funnel', () => {
  it('equals the funnel of the whole set to rounding, however swings come and go', () => {
    const random = seededRandom(4);
    const running = createRunningFunnel();
    const kept: ReachCurve[] = [];
    for (let step = 0; step < 400; step++) {
      if (kept.length > 0 && random.uniform(0, 1) < 0.45) {
        const [gone] = kept.splice(Math.floor(random.uniform(0, kept.length)), 1);
        removeSwing(running, gone!);
      } else {
        const level = random.normal(0.03);
        const noiseM = random.uniform(0.001, 0.004);
        const added = curve((p) => 0.8 + 0.003 * p + level * (1 - p / 150), noiseM);
        kept.push(added);
        addSwing(running, added);
      }
      const now = funnelSoFar(running);
      const whole = funnelOfCurves(kept, POINTS);
      expect(now.n).toBe(whole.n);
      expect(apart(now.meanM, whole.meanM)).toBeLessThan(1e-13);
      // Square roots of sums that rounded to 1e-17 near zero.
      expect(apart(now.spreadM, whole.spreadM)).toBeLessThan(1e-9);
      expect(apart(now.floorM, whole.floorM)).toBeLessThan(1e-9);
    }
  });

  it('gives the certified SD of NIST NumAcc3 and NumAcc4 where sums of squares lose every digit', () => {
    // NIST StRD, values as in funnel.test.ts: SD 0.1 with a mean of a million and of ten million.
    for (const [base, relative] of [
      [1000000, 1e-7],
      [10000000, 1e-6],
    ] as const) {
      const running = createRunningFunnel();
      addSwing(
        running,
        curve(() => base + 0.2),
      );
      for (let i = 0; i < 500; i++)
        for (const y of [base + 0.1, base + 0.3])
          addSwing(
            running,
            curve(() => y),
          );
      expect(Math.abs(funnelSoFar(running).spreadM[7]! / 0.1 - 1)).toBeLessThan(relative);
    }
  });

  it('is empty again, to the last bit, when all swings are taken out', () => {
    const running = createRunningFunnel();
    const swings = [0.1, 0.7, 0.3].map((x) => curve((p) => x + p / 7));
    for (const swing of swings) addSwing(running, swing);
    for (const swing of swings) removeSwing(running, swing);
    expect(running).toEqual(createRunningFunnel());
    expect(() => removeSwing(running, swings[0]!)).toThrow(/no swing was added/);
  });

  it('knows no spread of one swing, also after another was taken out', () => {
    const running = createRunningFunnel();
    addSwing(
      running,
      curve(() => 0.9),
    );
    addSwing(
      running,
      curve(() => 1.1),
    );
    removeSwing(
      running,
      curve(() => 1.1),
    );
    const funnel = funnelSoFar(running);
    expect(Number.isNaN(funnel.spreadM[3])).toBe(true);
    expect(funnel.meanM[3]).toBeCloseTo(0.9, 15);
    expect(funnel.floorM[3]).toBeCloseTo(0.002, 15);
  });

  it('survives being written down and read again', () => {
    const running = createRunningFunnel();
    addSwing(
      running,
      curve((p) => 0.8 + p / 1000),
    );
    const resumed = structuredClone(running);
    for (const state of [running, resumed])
      addSwing(
        state,
        curve((p) => 0.9 + p / 900),
      );
    expect(resumed).toEqual(running);
  });
});
