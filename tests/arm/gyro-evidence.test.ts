import { describe, expect, test } from 'vitest';
import {
  addGyroEvidence,
  createGyroEvidence,
  type GyroEvidence,
  likeliestGyroErrors,
} from '../../src/core/arm/gyro-evidence.ts';
import { createGyroTilt, GYRO_ERRORS } from '../../src/core/arm/gyro-tilt.ts';
import { fromRotationVector, quaternion, rotate } from '../../src/core/maths/quaternion.ts';
import { seededRandom } from '../../src/core/maths/random.ts';
import { vector3 } from '../../src/core/maths/vector.ts';

/** Error matrices of the three sensors, the implement's the largest. */
const ERRORS = Float64Array.from(
  { length: 3 * GYRO_ERRORS },
  (_, i) => 0.012 * Math.sin(1 + 2.7 * i),
);

/**
 * Both joints at some instants of a swing: one force, each sensor's vertical off by its tilt. Headings are anything,
 * other ones for every sensor.
 */
function watch(evidence: GyroEvidence, seed: number, instants: number, otherTiltRad = 0): void {
  const random = seededRandom(seed);
  for (let n = 0; n < instants; n++) {
    const tilts = [0, 1, 2].map(() => createGyroTilt().map(() => random.uniform(-2, 2)));
    const force = vector3(random.uniform(-30, 30), random.uniform(20, 60), random.uniform(-10, 30));
    const felt = [0, 1, 2].map((k) => {
      const theta = [0, 1].map((r) =>
        tilts[k]!.subarray(GYRO_ERRORS * r, GYRO_ERRORS * (r + 1)).reduce(
          (sum, t, i) => sum + t * ERRORS[GYRO_ERRORS * k + i]!,
          0,
        ),
      );
      const heading = fromRotationVector(quaternion(), 0, 0, random.uniform(-3, 3));
      const other = k === 2 ? otherTiltRad : 0;
      const tilt = fromRotationVector(quaternion(), theta[0]!, theta[1]! + other, 0);
      return rotate(vector3(), tilt, rotate(vector3(), heading, force));
    });
    for (const joint of [0, 1] as const) {
      addGyroEvidence(evidence, joint, felt[joint]!, felt[joint + 1]!, tilts);
    }
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

  test('a force that points up says nothing, nor does one that is not known', () => {
    const evidence = createGyroEvidence();
    const tilts = [createGyroTilt(), createGyroTilt(), createGyroTilt()];
    addGyroEvidence(evidence, 0, vector3(1, 0, 30), vector3(0, 1, 30), tilts);
    addGyroEvidence(evidence, 0, vector3(Number.NaN, 0, 30), vector3(30, 1, 30), tilts);
    expect(evidence.instants).toBe(0);
  });
});
