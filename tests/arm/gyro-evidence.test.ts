import { describe, expect, test } from 'vitest';
import {
  addGyroEvidence,
  createGyroEvidence,
  type GyroEvidence,
  likeliestGyroErrors,
} from '../../src/core/arm/gyro-evidence.ts';
import { createGyroTilt, GYRO_ERRORS } from '../../src/core/arm/gyro-tilt.ts';
import {
  conjugate,
  fromRotationVector,
  quaternion,
  rotate,
} from '../../src/core/maths/quaternion.ts';
import { seededRandom } from '../../src/core/maths/random.ts';
import { vector3 } from '../../src/core/maths/vector.ts';
import { createReading } from '../../src/core/orientation/sensor-track.ts';

const NO_LEVERS = { aboveM: vector3(), belowM: vector3() };

/** Error matrices of the three sensors, the implement's the largest. */
const ERRORS = Float64Array.from(
  { length: 3 * GYRO_ERRORS },
  (_, i) => 0.012 * Math.sin(1 + 2.7 * i),
);

/**
 * One joint at some instants of a swing: the sensors sit in the joint, each vertical off by its tilt. Headings are
 * anything, other ones for the two sensors.
 */
function watch(evidence: GyroEvidence, seed: number, instants: number, otherTiltRad = 0): void {
  const random = seededRandom(seed);
  for (let n = 0; n < instants; n++) {
    const tilts = [0, 1, 2].map(() => createGyroTilt().map(() => random.uniform(-2, 2)));
    const force = vector3(random.uniform(-30, 30), random.uniform(20, 60), random.uniform(-10, 30));
    const readings = [0, 1, 2].map((k) => {
      const reading = createReading();
      reading.gyr.set([8, 0, 0]);
      const q = fromRotationVector(
        quaternion(),
        random.uniform(-1, 1),
        random.uniform(-1, 1),
        random.uniform(-1, 1),
      );
      reading.qEarthFromSensor.set(q);
      // as felt by a sensor whose true orientation is the believed one without its tilt
      const theta = [0, 1].map((r) =>
        tilts[k]!.subarray(GYRO_ERRORS * r, GYRO_ERRORS * (r + 1)).reduce(
          (sum, t, i) => sum + t * ERRORS[GYRO_ERRORS * k + i]!,
          0,
        ),
      );
      const heading = fromRotationVector(quaternion(), 0, 0, random.uniform(-3, 3));
      const turned = rotate(vector3(), heading, force);
      const tilt = fromRotationVector(
        quaternion(),
        theta[0]!,
        theta[1]! + (k === 2 ? otherTiltRad : 0),
        0,
      );
      const believed = rotate(vector3(), tilt, turned);
      rotate(reading.acc, conjugate(quaternion(), q), believed);
      return reading;
    });
    for (const joint of [0, 1] as const)
      addGyroEvidence(evidence, joint, readings, NO_LEVERS, tilts);
  }
}

/** Share of the matrices left wrong. */
const leftOf = (errors: Float64Array) =>
  Math.hypot(...errors.map((e, i) => e - ERRORS[i]!)) / Math.hypot(...ERRORS);

// No outside reference: forces are made up with known tilts.
describe('gyroscope errors from the elevation of joint forces', () => {
  test('come out, whatever the headings, the more so the more was seen', () => {
    const few = createGyroEvidence();
    watch(few, 1, 60);
    const many = createGyroEvidence();
    watch(many, 1, 1200);
    expect(leftOf(likeliestGyroErrors(many))).toBeLessThan(0.15);
    expect(leftOf(likeliestGyroErrors(few))).toBeGreaterThan(leftOf(likeliestGyroErrors(many)));
  });

  test('are none without evidence', () => {
    expect(likeliestGyroErrors(createGyroEvidence()).every((e) => e === 0)).toBe(true);
  });

  test('no set says more than a limited number of instants', () => {
    const long = createGyroEvidence();
    watch(long, 2, 1200);
    const twice: GyroEvidence = {
      normal: long.normal.map((x) => 2 * x),
      gradient: long.gradient.map((x) => 2 * x),
      instants: 2 * long.instants,
    };
    likeliestGyroErrors(twice).forEach((e, i) => {
      expect(e).toBeCloseTo(likeliestGyroErrors(long)[i]!, 12);
    });
  });

  test('a sensor that slipped by 20 degrees is no evidence', () => {
    const slipped = createGyroEvidence();
    watch(slipped, 3, 300, 0.6);
    const sound = createGyroEvidence();
    watch(sound, 3, 300);
    expect(slipped.instants).toBeLessThan(0.8 * sound.instants);
  });

  test('slow turning and forces that point up say nothing', () => {
    const evidence = createGyroEvidence();
    const readings = [createReading(), createReading(), createReading()];
    const tilts = [createGyroTilt(), createGyroTilt(), createGyroTilt()];
    for (const reading of readings) reading.acc.set([30, 0, 9.81]);
    addGyroEvidence(evidence, 0, readings, NO_LEVERS, tilts);
    for (const reading of readings) {
      reading.gyr.set([8, 0, 0]);
      reading.acc.set([1, 0, 30]);
    }
    addGyroEvidence(evidence, 0, readings, NO_LEVERS, tilts);
    expect(evidence.instants).toBe(0);
  });
});
