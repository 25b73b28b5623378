import { describe, expect, it } from 'vitest';
import { jointSpecificForce } from '../../src/core/arm/joint-acceleration.ts';
import { SEGMENTS } from '../../src/core/arm/segments.ts';
import { STANDARD_GRAVITY } from '../../src/core/maths/angles.ts';
import {
  fromRotationVector,
  multiply,
  quaternion,
  quaternionAngle,
  rotate,
  rotateInverse,
} from '../../src/core/maths/quaternion.ts';
import { seededRandom } from '../../src/core/maths/random.ts';
import { addScaled, vector3 } from '../../src/core/maths/vector.ts';
import { createReading } from '../../src/core/orientation/sensor-track.ts';
import { ARM_CHANNELS, segmentOrientation } from '../../src/core/simulator/arm-kinematics.ts';
import { lengthsOf, SENSOR_FROM_JOINT_M } from '../../src/core/simulator/kit.ts';
import type { IdealSignals } from '../../src/core/simulator/knock.ts';
import { NO_ERRORS } from '../../src/core/simulator/sensor-errors.ts';
import {
  movementAt,
  type PlannedMovement,
  planMovement,
} from '../../src/core/simulator/virtual-player.ts';
import {
  createVirtualSensor,
  idealSignals,
  type VirtualSensor,
} from '../../src/core/simulator/virtual-sensor.ts';
import { expectClose } from '../maths/close.ts';
import { sessionOptions } from './session-options.ts';

const options = sessionOptions({ swings: 2, errors: NO_ERRORS });
const lengths = lengthsOf(options);

function plan(strategy: 'distal' | 'frozen' = 'distal') {
  const random = seededRandom(21);
  const movement = planMovement({ ...options, strategy }, random);
  const sensors = SEGMENTS.map((segment, k) =>
    createVirtualSensor(k, SENSOR_FROM_JOINT_M[segment], 200, NO_ERRORS, random),
  );
  return { movement, sensors };
}

function signals(sensor: VirtualSensor, movement: PlannedMovement, timeS: number): IdealSignals {
  const out = { gyr: vector3(), acc: vector3() };
  idealSignals(sensor, movement, lengths, timeS, 0, out);
  return out;
}

function orientationAt(sensor: VirtualSensor, movement: PlannedMovement, timeS: number) {
  const channels = movementAt(movement, timeS, new Float64Array(ARM_CHANNELS));
  const q = segmentOrientation(quaternion(), channels, sensor.segment);
  return multiply(q, q, sensor.qSegmentFromSensor);
}

describe('idealSignals', () => {
  it.each(['distal', 'frozen'] as const)(
    'gives rates whose integral is the movement of a whole %s swing',
    (strategy) => {
      const { movement, sensors } = plan(strategy);
      const { contactS } = movement.swings[0]!;
      for (const sensor of sensors) {
        const from = contactS - 0.8;
        const q = orientationAt(sensor, movement, from);
        const dt = 1e-3;
        for (let n = 0; n < 1000; n++) {
          const { gyr } = signals(sensor, movement, from + (n + 0.5) * dt);
          const step = gyr.map((w) => w * dt);
          multiply(q, q, fromRotationVector(quaternion(), step[0]!, step[1]!, step[2]!));
        }
        // midpoint rule: w'' dt^3/24 per step with w'' up to 2e4 rad/s^3: 1e-3 in all if it all added up; plus the
        // turning of the axis within a step, w x w' dt^3/12, of the same size
        const end = orientationAt(sensor, movement, from + 1);
        expect(quaternionAngle(q, end)).toBeLessThan(1e-3);
      }
    },
  );

  it('reads g upwards at rest', () => {
    const { movement, sensors } = plan();
    const steady = { ...movement, sway: { ...movement.sway, amplitude: new Float64Array(12) } };
    for (const timeS of [2, 7]) {
      for (const sensor of sensors) {
        const { gyr, acc } = signals(sensor, steady, timeS);
        const up = rotate(vector3(), orientationAt(sensor, steady, timeS), acc);
        // second differences over 0.1 ms: 1e-16/1e-8 rounding
        expectClose(up, [0, 0, STANDARD_GRAVITY], 1e-6);
        expectClose(gyr, [0, 0, 0], 1e-9);
      }
    }
  });

  it('gives both neighbours of a joint the same joint-centre acceleration throughout a swing', () => {
    const { movement, sensors } = plan();
    const { contactS } = movement.swings[1]!;
    const h = 1e-4;
    const forceAt = (k: 0 | 1 | 2, alongM: number, timeS: number) => {
      const sensor = sensors[k]!;
      const reading = createReading();
      const { gyr, acc } = signals(sensor, movement, timeS);
      reading.gyr.set(gyr);
      reading.acc.set(acc);
      const later = signals(sensor, movement, timeS + h).gyr;
      const earlier = signals(sensor, movement, timeS - h).gyr;
      reading.gyrRate.set(later.map((w, i) => (w - earlier[i]!) / (2 * h)));
      reading.qEarthFromSensor.set(orientationAt(sensor, movement, timeS));
      const longAxis = rotateInverse(vector3(), sensor.qSegmentFromSensor, vector3(1));
      return jointSpecificForce(
        vector3(),
        reading,
        addScaled(vector3(), vector3(), alongM, longAxis),
      );
    };
    let largest = 0;
    for (let t = contactS - 1; t < contactS + 0.4; t += 0.013) {
      for (const k of [0, 1] as const) {
        const upper = SEGMENTS[k];
        const lower = SEGMENTS[k + 1]!;
        const above = forceAt(k, lengths[k] - SENSOR_FROM_JOINT_M[upper], t);
        const below = forceAt((k + 1) as 1 | 2, -SENSOR_FROM_JOINT_M[lower], t);
        // differences of differences over 0.1 ms
        expectClose(above, below, 1e-3);
        largest = Math.max(largest, Math.hypot(above[0]!, above[1]!));
      }
    }
    expect(largest).toBeGreaterThan(20); // there was something to agree on
  });
});
