import { describe, expect, it } from 'vitest';
import { compareMethods, fittedJoints, METHODS } from '../../src/batch/compare-methods.ts';
import type { JointInstant, JointTrial } from '../../src/batch/joint-trial.ts';
import { relativeError, rms } from '../../src/batch/relative-error.ts';
import { simulatedTrial } from '../../src/batch/simulated-trial.ts';
import { DEG_PER_RAD, RAD_PER_DEG, STANDARD_GRAVITY } from '../../src/core/maths/angles.ts';
import {
  conjugate,
  fromRotationVector,
  multiply,
  type Quaternion,
  quaternion,
  rotateInverse,
  toRotationVector,
} from '../../src/core/maths/quaternion.ts';
import { vector3 } from '../../src/core/maths/vector.ts';
import { createReading } from '../../src/core/orientation/sensor-track.ts';
import { NO_ERRORS } from '../../src/core/simulator/sensor-errors.ts';

const about = (x: number, y: number, z: number) => fromRotationVector(quaternion(), x, y, z);

describe('relativeError', () => {
  it('splits a difference into the turn about the vertical and the rest', () => {
    // By hand: theirs is ours after 5 degrees about a horizontal and 30 about the vertical, seen in the earth frame.
    const qEarthFromAbove = about(0.3, -0.8, 0.5);
    const ours = about(-0.4, 0.2, 1.1);
    const e = multiply(
      quaternion(),
      about(0, 0, 30 * RAD_PER_DEG),
      about(3 * RAD_PER_DEG, 4 * RAD_PER_DEG, 0),
    );
    const inEarth = multiply(quaternion(), e, multiply(quaternion(), qEarthFromAbove, ours));
    const theirs = multiply(quaternion(), conjugate(quaternion(), qEarthFromAbove), inEarth);
    const error = relativeError(qEarthFromAbove, ours, theirs);
    expect(error.heading * DEG_PER_RAD).toBeCloseTo(30, 9);
    expect(error.tilt * DEG_PER_RAD).toBeCloseTo(5, 6);
    // cosines of half angles multiply for turns about axes at right angles
    const half = Math.cos(15 * RAD_PER_DEG) * Math.cos(2.5 * RAD_PER_DEG);
    expect(error.angle).toBeCloseTo(2 * Math.acos(half), 12);
  });
});

const STEP_S = 0.005;
/** What the sensor below takes for north is off by this. */
const NORTH_OFF_RAD = 1.1;
const JOINT_AT_REST = about(0.4, -0.2, 0.3);

/** A perfect joint of two axes at right angles: z above, then x below. */
function jointAt(timeS: number): Quaternion {
  const flexion = about(0, 0, 0.9 * Math.sin(1.3 * timeS));
  const pronation = about(0.8 * Math.sin(0.7 * timeS + 1), 0, 0);
  const turned = multiply(quaternion(), flexion, pronation);
  return multiply(quaternion(), turned, JOINT_AT_REST);
}

function upperAt(timeS: number): Quaternion {
  return about(0.6 * Math.sin(0.9 * timeS), 0.5 * Math.sin(1.1 * timeS + 0.5), 0.4 * timeS);
}

/** Two faultless sensors at the joint itself, which is shaken about; the true turn every fourth instant. */
function* perfectInstants(seconds: number): Generator<JointInstant, void, void> {
  const lowerAt = (timeS: number) => multiply(quaternion(), upperAt(timeS), jointAt(timeS));
  const north = about(0, 0, -NORTH_OFF_RAD);
  for (let k = 1; k * STEP_S <= seconds; k++) {
    const timeS = k * STEP_S;
    const force = vector3(2 * Math.sin(5 * timeS), 3 * Math.cos(4 * timeS), STANDARD_GRAVITY);
    const read = (qAt: (timeS: number) => Quaternion) => {
      const step = multiply(quaternion(), conjugate(quaternion(), qAt(timeS - STEP_S)), qAt(timeS));
      const gyr = toRotationVector(vector3(), step).map((angle) => angle / STEP_S);
      return { ...createReading(), gyr, acc: rotateInverse(vector3(), qAt(timeS), force) };
    };
    yield {
      joint: 0,
      timeS,
      stepS: STEP_S,
      above: { ...read(upperAt), qEarthFromSensor: upperAt(timeS) },
      below: {
        ...read(lowerAt),
        qEarthFromSensor: multiply(quaternion(), north, lowerAt(timeS)),
      },
      leverAboveM: vector3(),
      leverBelowM: vector3(),
      isShocked: false,
      qTrue: k % 4 === 0 ? jointAt(timeS) : null,
      counts: timeS > 10,
    };
  }
}

describe('compareMethods', () => {
  const perfect: JointTrial = { group: '', arm: null, instants: () => perfectInstants(20) };

  it('is given the axes of a perfect 2-DoF joint', () => {
    const [joint] = fittedJoints(perfect);
    expect(joint!.spreadRad).toBeLessThan(1e-6);
    expect(joint!.angleRad).toBeCloseTo(Math.PI / 2, 6);
    const [x, y, z] = joint!.axisAbove;
    expect(Math.abs(z!)).toBeCloseTo(1, 9);
    expect(Math.hypot(x!, y!)).toBeLessThan(1e-4);
    const below = rotateInverse(vector3(), JOINT_AT_REST, vector3(1, 0, 0));
    const along = below.reduce((sum, value, i) => sum + value * joint!.axisBelow[i]!, 0);
    expect(Math.abs(along)).toBeCloseTo(1, 9);
  });

  it('finds every method right where sensors and joint are perfect', () => {
    const errors = compareMethods(perfect, fittedJoints(perfect));
    for (const [m, { name }] of METHODS.entries()) {
      const [joint] = errors[m]!.joints;
      expect(joint.length).toBe(500);
      // headings are searched in steps of a quarter degree; a filter still remembers its ignorance
      expect(DEG_PER_RAD * rms(joint.map((e) => e.angle)), name).toBeLessThan(0.3);
    }
  });

  it('knows the true orientations of a simulated set', () => {
    // Perfect sensors: what is left is the inclination filter's error in swings, about 3 degrees, and no reach of
    // another arm. Sensors mounted up to 50 degrees off would show at once.
    const trial = simulatedTrial('', {
      seed: 4,
      strategy: 'distal',
      implement: 'short',
      ball: 'standard',
      handedness: 'right',
      swings: 10,
      swingIntervalS: 6,
      nominalRateHz: 200,
      errors: NO_ERRORS,
    });
    const [production] = compareMethods(trial, fittedJoints(trial));
    for (const joint of production!.joints) {
      expect(joint.length).toBeGreaterThan(50);
      expect(DEG_PER_RAD * rms(joint.map((e) => e.angle))).toBeLessThan(6);
    }
    expect(rms(production!.reachM)).toBeLessThan(0.01);
  });
});
