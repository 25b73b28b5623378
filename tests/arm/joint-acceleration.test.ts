import { describe, expect, it } from 'vitest';
import { jointSpecificForce } from '../../src/core/arm/joint-acceleration.ts';
import { STANDARD_GRAVITY } from '../../src/core/maths/angles.ts';
import {
  conjugate,
  fromRotationVector,
  multiply,
  type Quaternion,
  quaternion,
  rotate,
  rotateInverse,
  toRotationVector,
} from '../../src/core/maths/quaternion.ts';
import { addScaled, type Vector3, vector3 } from '../../src/core/maths/vector.ts';
import { createReading, type TrackReading } from '../../src/core/orientation/sensor-track.ts';
import { expectClose } from '../maths/close.ts';

/** Sensor frame against segment frame (x along the segment): any mounting. */
const qSegmentFromSensor = fromRotationVector(quaternion(), 0.4, -1.1, 0.7);
const longAxis = rotateInverse(vector3(), qSegmentFromSensor, vector3(1));

/** The lever arm that lies so far along the segment. */
const along = (metres: number) => addScaled(vector3(), vector3(), metres, longAxis);

/** A reading from quantities in the earth frame. */
function readingFrom(
  qEarthFromSegment: Quaternion,
  omega: Vector3,
  omegaRate: Vector3,
  acceleration: Vector3,
): TrackReading {
  const reading = createReading();
  const q = multiply(reading.qEarthFromSensor, qEarthFromSegment, qSegmentFromSensor);
  rotateInverse(reading.gyr, q, omega);
  rotateInverse(reading.gyrRate, q, omegaRate);
  acceleration[2] = acceleration[2]! + STANDARD_GRAVITY;
  rotateInverse(reading.acc, q, acceleration);
  return reading;
}

describe('jointSpecificForce', () => {
  it('finds nothing but gravity at the fixed pivot of a link that turns and speeds up', () => {
    // Circular motion, closed form: p = s (cos f, sin f, 0), a = s f'' (-sin f, cos f, 0) - s f'^2 (cos f, sin f, 0).
    for (const [angle, rate, rateRate] of [
      [0.3, 2, -5],
      [-2.1, 14, 120],
      [1.6, -9, 60],
    ] as const) {
      const s = 0.15;
      const [c, n] = [Math.cos(angle), Math.sin(angle)];
      const reading = readingFrom(
        fromRotationVector(quaternion(), 0, 0, angle),
        vector3(0, 0, rate),
        vector3(0, 0, rateRate),
        vector3(s * (-rateRate * n - rate * rate * c), s * (rateRate * c - rate * rate * n), 0),
      );
      // the pivot lies at -s along the segment; forces up to 30 m/s^2 with a few roundings
      const force = jointSpecificForce(vector3(), reading, along(-s));
      expectClose(force, [0, 0, STANDARD_GRAVITY], 1e-13);
      // and the far end of the link, 0.4 m out, feels its own circle
      const far = jointSpecificForce(vector3(), reading, along(0.4 - s));
      expectClose(
        far,
        [
          0.4 * (-rateRate * n - rate * rate * c),
          0.4 * (rateRate * c - rate * rate * n),
          STANDARD_GRAVITY,
        ],
        1e-13,
      );
    }
  });

  it('agrees with the free swing of a pendulum', () => {
    // Released level: w^2 = 2 (g/l) sin(a), w' = (g/l) cos(a) at dip a. Specific force at distance l on a massless rod
    // is along the rod: 3 g sin(a) towards the pivot.
    const l = 0.5;
    for (const dip of [0.2, 0.9, Math.PI / 2]) {
      const w = Math.sqrt((2 * STANDARD_GRAVITY * Math.sin(dip)) / l);
      const wRate = (STANDARD_GRAVITY / l) * Math.cos(dip);
      const reading = createReading();
      const q = multiply(
        reading.qEarthFromSensor,
        fromRotationVector(quaternion(), 0, dip, 0), // x dips for a positive turn about y
        qSegmentFromSensor,
      );
      rotateInverse(reading.gyr, q, vector3(0, w, 0));
      rotateInverse(reading.gyrRate, q, vector3(0, wRate, 0));
      const force = -3 * STANDARD_GRAVITY * Math.sin(dip);
      for (let i = 0; i < 3; i++) reading.acc[i] = force * longAxis[i]!;
      const pivot = jointSpecificForce(vector3(), reading, along(-l));
      expectClose(pivot, [0, 0, STANDARD_GRAVITY], 1e-13);
    }
  });

  it('finds nothing but gravity at the pivot of a link that turns about a moving axis', () => {
    // Orientation Rz(a) Ry(b) Rx(c) with all three angles in motion; the sensor's signals come from differences of
    // its position and orientation in time, the pivot stays put.
    const s = 0.14;
    const orientation = (t: number) => {
      const z = fromRotationVector(quaternion(), 0, 0, 3 * Math.sin(2 * t));
      const y = fromRotationVector(quaternion(), 0, 1.2 * Math.cos(3 * t), 0);
      const x = fromRotationVector(quaternion(), 2 * Math.sin(t), 0, 0);
      return multiply(quaternion(), multiply(quaternion(), z, y), x);
    };
    const position = (t: number) => rotate(vector3(), orientation(t), vector3(s));
    const h = 1e-4;
    const omegaAt = (t: number) => {
      const before = orientation(t - h);
      const step = multiply(quaternion(), orientation(t + h), conjugate(before, before));
      return toRotationVector(vector3(), step).map((v) => v / (2 * h));
    };
    for (const t of [0.1, 0.7, 1.9]) {
      const [p0, p1, p2] = [position(t - h), position(t), position(t + h)];
      const acceleration = p1.map((p, i) => (p0[i]! - 2 * p + p2[i]!) / (h * h));
      const [w0, w2] = [omegaAt(t - h), omegaAt(t + h)];
      const reading = readingFrom(
        orientation(t),
        omegaAt(t),
        w0.map((w, i) => (w2[i]! - w) / (2 * h)),
        acceleration,
      );
      // differences: h^2 of the fourth derivative (about 1e3) and rounding 1e-16/h^2 = 1e-8
      const force = jointSpecificForce(vector3(), reading, along(-s));
      expectClose(force, [0, 0, STANDARD_GRAVITY], 1e-4);
      expect(Math.hypot(...acceleration)).toBeGreaterThan(1);
    }
  });
});
