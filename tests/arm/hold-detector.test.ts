import { describe, expect, it } from 'vitest';
import {
  createHoldDetector,
  HOLD_S,
  resetHold,
  stepHold,
} from '../../src/core/arm/hold-detector.ts';
import { RAD_PER_DEG, STANDARD_GRAVITY } from '../../src/core/maths/angles.ts';
import { seededRandom } from '../../src/core/maths/random.ts';
import { type Vector3, vector3 } from '../../src/core/maths/vector.ts';
import { expectClose } from '../maths/close.ts';

const STEP_S = 0.005;
const G = STANDARD_GRAVITY;
const STILL = [vector3(), vector3(), vector3()];
const GRAVITY = [vector3(0, 0, G), vector3(-G, 0, 0), vector3(0, G * 0.6, G * 0.8)];

/** What the three sensors feel. */
function felt(gyr: readonly Vector3[], acc: readonly Vector3[]): Parameters<typeof stepHold>[1] {
  const sensor = (k: number) => ({ gyr: gyr[k]!, acc: acc[k]! });
  return [sensor(0), sensor(1), sensor(2)];
}

/** Steps until a hold is reported or time is up; the step at which it was, or -1. */
function run(
  seconds: number,
  gyr: (timeS: number) => readonly Vector3[],
  acc: (timeS: number) => readonly Vector3[],
  hold = createHoldDetector(),
): number {
  for (let n = 0; n < Math.round(seconds / STEP_S); n++) {
    if (stepHold(hold, felt(gyr(n * STEP_S), acc(n * STEP_S)), STEP_S)) return n + 1;
  }
  return -1;
}

describe('stepHold', () => {
  it('reports a hold once, when it has lasted two seconds', () => {
    const hold = createHoldDetector();
    const at = run(
      3,
      () => STILL,
      () => GRAVITY,
      hold,
    );
    // 2 s are 400 steps of 5 ms, one more or less by rounding of the sum
    expect(Math.abs(at * STEP_S - HOLD_S)).toBeLessThanOrEqual(1.01 * STEP_S);
    hold.gravity.forEach((g, k) => {
      expectClose(g, GRAVITY[k]!, 1e-12);
    });
    expect(
      run(
        10,
        () => STILL,
        () => GRAVITY,
        hold,
      ),
    ).toBe(-1);
  });

  it('reports the mean of a trembling child, without bias', () => {
    const random = seededRandom(3);
    const tremble = () => STILL.map(() => vector3(0, 0, 0).map(() => random.normal(0.06)));
    const shaky = () => GRAVITY.map((g) => g.map((x) => x + random.normal(0.2)));
    const hold = createHoldDetector();
    expect(run(3, tremble, shaky, hold)).toBeGreaterThan(0);
    hold.gravity.forEach((g, k) => {
      // 340 samples: SE 0.2/sqrt 340 = 0.011; four of them
      expectClose(g, GRAVITY[k]!, 0.044);
    });
  });

  it('leaves the settling at the start out of the mean', () => {
    const hold = createHoldDetector();
    const settling = (t: number) =>
      t < 0.29 ? GRAVITY.map((g) => g.map((x) => x * 1.1)) : GRAVITY;
    run(3, () => STILL, settling, hold);
    hold.gravity.forEach((g, k) => {
      expectClose(g, GRAVITY[k]!, 1e-12);
    });
  });

  it.each([0, 1, 2])('starts over when sensor %i alone moves', (k) => {
    const moving = (t: number) =>
      STILL.map((v, i) => (i === k && Math.abs(t - 1.9) < 0.003 ? vector3(0, 0.4, 0) : v));
    // moved at 1.9 s: the hold is only full at 3.9 s
    const at = run(5, moving, () => GRAVITY) * STEP_S;
    expect(Math.abs(at - 3.9)).toBeLessThan(0.02);
  });

  it('takes no free fall and no steady push for a hold', () => {
    expect(
      run(
        5,
        () => STILL,
        () => GRAVITY.map((g) => g.map((x) => x * 0.8)),
      ),
    ).toBe(-1);
    expect(
      run(
        5,
        () => STILL,
        () => [GRAVITY[0]!, vector3(0, 0, 12), GRAVITY[2]!],
      ),
    ).toBe(-1);
  });

  it('takes a second hold after movement or a reset', () => {
    const hold = createHoldDetector();
    run(
      3,
      () => STILL,
      () => GRAVITY,
      hold,
    );
    stepHold(hold, felt([vector3(1), ...STILL.slice(1)], GRAVITY), STEP_S);
    expect(
      run(
        3,
        () => STILL,
        () => GRAVITY,
        hold,
      ),
    ).toBeGreaterThan(0);
    resetHold(hold);
    expect(hold).toEqual(createHoldDetector());
  });

  // A fault once: each instant is looked at by itself, so an arm lowered at 14 deg/s for two seconds is a hold, its
  // gravity a mean over 24 degrees.
  it('takes no slow steady turn for a hold', () => {
    const rate = 14 * RAD_PER_DEG;
    const turning = (t: number) =>
      GRAVITY.map(() => vector3(G * Math.sin(rate * t), 0, G * Math.cos(rate * t)));
    expect(run(3, () => STILL.map(() => vector3(0, -rate, 0)), turning)).toBe(-1);
  });

  it('takes what is no number for no stillness', () => {
    const broken = () => STILL.map(() => vector3(Number.NaN));
    expect(run(3, broken, () => GRAVITY.map((g) => Float64Array.from(g)))).toBe(-1);
  });
});
