import { describe, expect, test } from 'vitest';
import type { ChainLevers } from '../../src/core/arm/chain-levers.ts';
import {
  createMotionTilt,
  forgetMotion,
  removeMotionTilt,
} from '../../src/core/arm/motion-tilt.ts';
import { DEG_PER_RAD } from '../../src/core/maths/angles.ts';
import { rotate } from '../../src/core/maths/quaternion.ts';
import { type Vector3, vector3 } from '../../src/core/maths/vector.ts';
import { createFilter, stepFilter } from '../../src/core/orientation/filter.ts';
import {
  createReading,
  SAMPLE_IN_SHOCK,
  type TrackReading,
} from '../../src/core/orientation/sensor-track.ts';

const STEP_S = 0.005;
const PERIOD_S = 5;
const CONTACT_S = 0.3;
const SHOCK_S = 0.1;
const PEAK_RAD_S = 15;

/**
 * A straight stiff arm turning level about the shoulder: up to 15 rad/s in 0.3 s, stopped by the ball in 0.1 s,
 * brought back over two seconds. Rate and its derivative in closed form, rad/s and rad/s^2.
 */
function turning(timeS: number): { rate: number; change: number } {
  const t = timeS % PERIOD_S;
  const hump = (from: number, quarterS: number, peak: number) => {
    const phase = ((Math.PI / 2) * (t - from)) / quarterS;
    return {
      rate: peak * Math.sin(phase) ** 2,
      change: (peak * Math.sin(2 * phase) * Math.PI) / 2 / quarterS,
    };
  };
  if (t < CONTACT_S) return hump(0, CONTACT_S, PEAK_RAD_S);
  if (t < CONTACT_S + SHOCK_S) return hump(CONTACT_S - SHOCK_S, SHOCK_S, PEAK_RAD_S);
  const back = (-PEAK_RAD_S * (CONTACT_S + SHOCK_S)) / 2;
  if (t >= 1 && t < 3) return hump(1, 1, back);
  return { rate: 0, change: 0 };
}

/** Each sensor: distance from the shoulder, metres, and how its axes are turned against the arm's, rad. */
const SENSORS = [
  { fromShoulderM: 0.2, turnedRad: 0 },
  { fromShoulderM: 0.5, turnedRad: 0.7 },
  { fromShoulderM: 0.9, turnedRad: 0.3 },
] as const;
const ELBOW_M = 0.3;
const WRIST_M = 0.6;

/** A vector of the arm's frame in a sensor's. */
function inSensor([x, y, z]: readonly [number, number, number], turnedRad: number): Vector3 {
  const c = Math.cos(turnedRad);
  const s = Math.sin(turnedRad);
  return vector3(c * x + s * y, c * y - s * x, z);
}

const lever = (k: 0 | 1 | 2, jointM: number) =>
  inSensor([jointM - SENSORS[k].fromShoulderM, 0, 0], SENSORS[k].turnedRad);
const LEVERS: ChainLevers = {
  toShoulderM: lever(0, 0),
  elbow: { aboveM: lever(0, ELBOW_M), belowM: lever(1, ELBOW_M) },
  wrist: { aboveM: lever(1, WRIST_M), belowM: lever(2, WRIST_M) },
};
/** The filters start with all their earth frames along the sensors. */
const TURNS = [0.7, -0.4] as const;
const NONE_MISSING = [false, false, false] as const;

const leanOf = ({ qEarthFromSensor }: TrackReading) =>
  Math.acos(Math.min(1, rotate(vector3(), qEarthFromSensor, vector3(0, 0, 1))[2]!)) * DEG_PER_RAD;

/** Largest lean of each sensor's vertical just before the contacts of a minute, degrees. */
function leans(levers: ChainLevers | null, turns: readonly [number, number] = TURNS): number[] {
  const filters = SENSORS.map(() => createFilter('vqf', STEP_S));
  const readings = [createReading(), createReading(), createReading()] as const;
  const state = createMotionTilt();
  const worst = [0, 0, 0];
  for (let n = 0; n * STEP_S < 60; n++) {
    // two seconds hanging before the first swing
    const timeS = n * STEP_S + PERIOD_S - 2;
    const { rate, change } = turning(timeS);
    const sinceSwing = timeS % PERIOD_S;
    const inShock = sinceSwing >= CONTACT_S && sinceSwing < CONTACT_S + SHOCK_S;
    SENSORS.forEach(({ fromShoulderM: r, turnedRad }, k) => {
      const acc = inSensor([-rate * rate * r, change * r, 9.81], turnedRad);
      const reading = readings[k]!;
      reading.gyr.set([0, 0, rate]);
      reading.flags = inShock ? SAMPLE_IN_SHOCK : 0;
      reading.qEarthFromSensor.set(stepFilter(filters[k]!, reading.gyr, acc, STEP_S, !inShock));
    });
    removeMotionTilt(state, readings, NONE_MISSING, levers, turns);
    if (Math.abs(sinceSwing - CONTACT_S) > STEP_S) continue;
    readings.forEach((reading, k) => {
      worst[k] = Math.max(worst[k]!, leanOf(reading));
    });
  }
  return worst;
}

// No outside reference: the motion is in closed form and the vertical of every sensor is its z axis throughout.
describe('the vertical at contact', () => {
  test('leans by degrees when the swing is left in, more the faster a sensor moves', () => {
    const [upper, fore, hand] = leans(null);
    expect(upper).toBeGreaterThan(0.5);
    expect(fore).toBeGreaterThan(upper!);
    expect(hand).toBeGreaterThan(3);
  });

  test('is upright within a tenth of that when levers and rates take it out', () => {
    const left = leans(null);
    leans(LEVERS).forEach((lean, k) => {
      expect(lean).toBeLessThan(0.1 * left[k]!);
    });
  });

  test('needs the turns between the earth frames', () => {
    expect(leans(LEVERS, [0, 0])[2]).toBeGreaterThan(1);
  });
});

describe('what is not heard', () => {
  const swinging = () => {
    const readings = [createReading(), createReading(), createReading()] as const;
    const state = createMotionTilt();
    const step = (rate: number, missing: readonly [boolean, boolean, boolean], flags = 0) => {
      for (const reading of readings) {
        reading.gyr.set([0, 0, rate]);
        reading.flags = flags;
        reading.qEarthFromSensor.set([1, 0, 0, 0]);
      }
      removeMotionTilt(state, readings, missing, LEVERS, TURNS);
    };
    return { state, step };
  };

  test('a shock and a missing sample leave the average as it was', () => {
    const { state, step } = swinging();
    step(0, NONE_MISSING);
    step(1, NONE_MISSING);
    const before = state.average.map(({ out }) => Array.from(out));
    step(9, NONE_MISSING, SAMPLE_IN_SHOCK);
    step(12, [true, true, true]);
    expect(state.average.map(({ out }) => Array.from(out))).toEqual(before);
    expect(before[2]!.some((x) => x !== 0)).toBe(true);
  });

  test('a filter that began anew has no motion in it', () => {
    const { state, step } = swinging();
    step(0, NONE_MISSING);
    step(3, NONE_MISSING);
    forgetMotion(state, 1);
    expect(Array.from(state.average[1].out)).toEqual([0, 0, 0]);
    expect(state.average[1].samples).toBe(0);
    expect(state.average[0].samples).toBe(1);
    step(3, NONE_MISSING);
    expect(state.average[1].samples).toBe(0);
  });
});
