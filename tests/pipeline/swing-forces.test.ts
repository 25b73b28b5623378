import { describe, expect, it } from 'vitest';
import type { JointLevers } from '../../src/core/arm/chain-levers.ts';
import { type ClockMap, createClockMap, observeArrival } from '../../src/core/clocks/clock-map.ts';
import { vector3 } from '../../src/core/maths/vector.ts';
import {
  addSample,
  createTrack,
  type SensorTrack,
} from '../../src/core/orientation/sensor-track.ts';
import { SWING_US, swingForces } from '../../src/core/pipeline/swing-forces.ts';

const STEP_US = 5000;
const CONTACT_US = 2_002_500;
const GRAVITY = 9.81;
/** Sensors, elbow and wrist from the shoulder, metres. */
const SENSORS_M = [0.2, 0.5, 0.9] as const;
const [ELBOW_M, WRIST_M] = [0.3, 0.6];
const lever = (sensor: 0 | 1 | 2, jointM: number) => vector3(jointM - SENSORS_M[sensor]);
const LEVERS: readonly [JointLevers, JointLevers] = [
  { aboveM: lever(0, ELBOW_M), belowM: lever(1, ELBOW_M) },
  { aboveM: lever(1, WRIST_M), belowM: lever(2, WRIST_M) },
];

/** A stiff level arm that swings to and fro about the shoulder: rate and its derivative, rad/s and rad/s^2. */
function turning(timeUs: number): { rate: number; change: number } {
  const t = timeUs * 1e-6;
  return { rate: 8 * Math.sin(5 * t), change: 40 * Math.cos(5 * t) };
}

/** Size of the force felt at a radius by the textbook: centripetal, tangential, gravity. */
function forceAt(radiusM: number, timeUs: number): number {
  const { rate, change } = turning(timeUs);
  return Math.hypot(rate * rate * radiusM, change * radiusM, GRAVITY);
}

interface Flaws {
  /** Its signals lag behind the host's time by this much. */
  readonly lateUs?: number;
  readonly isMissing?: (timeUs: number) => boolean;
  readonly knocksUs?: readonly number[];
}

function sensor(k: 0 | 1 | 2, { lateUs = 0, isMissing, knocksUs = [CONTACT_US] }: Flaws = {}) {
  const track = createTrack('vqf', STEP_US * 1e-6);
  const clock = createClockMap(1e6);
  let lastUs = -STEP_US;
  for (let us = 0; us < 2_200_000; us += STEP_US) {
    if (isMissing?.(us)) continue;
    const { rate, change } = turning(us - lateUs);
    const hit = knocksUs.some((knock) => us > knock && us < knock + 15_000) ? 200 : 0;
    const acc = vector3(
      -rate * rate * SENSORS_M[k],
      change * SENSORS_M[k],
      GRAVITY + ((us / STEP_US) % 2 ? -hit : hit),
    );
    const isAfterGap = us - lastUs > STEP_US;
    addSample(track, us, (us - lastUs) * 1e-6, vector3(0, 0, rate), acc, false, isAfterGap);
    observeArrival(clock, us, us);
    lastUs = us;
  }
  return { track, clock };
}

function forces(
  flaws: readonly [Flaws, Flaws, Flaws] = [{}, {}, {}],
  lagsUs: readonly [number, number, number] = [0, 0, 0],
) {
  const sensors = [sensor(0, flaws[0]), sensor(1, flaws[1]), sensor(2, flaws[2])];
  const tracks = sensors.map(({ track }) => track) as [SensorTrack, SensorTrack, SensorTrack];
  const clocks = sensors.map(({ clock }) => clock) as [ClockMap, ClockMap, ClockMap];
  return swingForces(tracks, clocks, lagsUs, LEVERS, CONTACT_US);
}

const timeUs = (n: number) => CONTACT_US - SWING_US + n * STEP_US;

/** Largest share by which a column is off the truth, where it is a number. */
function worst(column: Float64Array, radiusM: number): number {
  const shares = [...column].map((force, n) => force / forceAt(radiusM, timeUs(n)) - 1);
  return Math.max(...shares.filter((share) => !Number.isNaN(share)).map(Math.abs));
}

describe('forces of a swing', () => {
  // No outside reference: a point on a turning rod, by the textbook.
  it('are those of a point on a turning rod, from either side of each joint', () => {
    const [elbow, wrist] = forces();
    for (const column of [elbow.aboveMS2, elbow.belowMS2]) {
      expect(worst(column, ELBOW_M)).toBeLessThan(0.01);
    }
    for (const column of [wrist.aboveMS2, wrist.belowMS2]) {
      expect(worst(column, WRIST_M)).toBeLessThan(0.01);
    }
  });

  it('end with the last instant that feels nothing of the contact', () => {
    const [elbow] = forces();
    // 5 ms before contact the angular acceleration is already that of the knock
    expect(timeUs(elbow.aboveMS2.length - 1)).toBe(CONTACT_US - 2 * STEP_US);
    expect([...elbow.aboveMS2, ...elbow.belowMS2].some(Number.isNaN)).toBe(false);
  });

  it('are read later from a sensor that is late', () => {
    const late = { lateUs: 20_000, knocksUs: [CONTACT_US + 20_000] };
    const [, wrist] = forces([{}, {}, late], [0, 0, 20_000]);
    expect(worst(wrist.belowMS2, WRIST_M)).toBeLessThan(0.01);
    const [, unaligned] = forces([{}, {}, late]);
    expect(worst(unaligned.belowMS2, WRIST_M)).toBeGreaterThan(0.05);
  });

  const lost = { isMissing: (us: number) => us > 1_700_000 && us < 1_750_000 };
  const bumped = { knocksUs: [1_700_000, CONTACT_US] };
  it.each<readonly [string, readonly [Flaws, Flaws, Flaws], boolean, boolean]>([
    ['samples of the forearm are missing', [{}, lost, {}], false, false],
    ['samples of the upper arm are missing: the wrist is known', [lost, {}, {}], false, true],
    ['samples of the implement are missing: the elbow is known', [{}, {}, lost], true, false],
    ['an earlier knock is felt anywhere', [{}, {}, bumped], false, false],
  ])('are not known while %s', (_, flaws, isElbowKnown, isWristKnown) => {
    const at = (us: number) => Math.round((us - timeUs(0)) / STEP_US);
    const [elbow, wrist] = forces(flaws);
    for (const [{ aboveMS2, belowMS2 }, isKnown] of [
      [elbow, isElbowKnown],
      [wrist, isWristKnown],
    ] as const) {
      for (const column of [aboveMS2, belowMS2]) {
        expect(Number.isNaN(column[at(1_725_000)])).toBe(!isKnown);
        expect(Number.isNaN(column[at(1_690_000)])).toBe(false);
        expect(Number.isNaN(column[at(1_850_000)])).toBe(false);
      }
    }
  });
});
