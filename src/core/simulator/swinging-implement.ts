import type { BenchRecording } from '../calibration/bench-recording.ts';
import { RAD_PER_DEG, STANDARD_GRAVITY } from '../maths/angles.ts';
import {
  fromRotationVector,
  type Quaternion,
  quaternion,
  rotateInverse,
} from '../maths/quaternion.ts';
import { seededRandom } from '../maths/random.ts';
import { vector3 } from '../maths/vector.ts';

/** An implement that hangs from a peg and swings, with a sensor on it. */
export interface SwingingImplement {
  readonly seed: number;
  readonly massKg: number;
  /** About the peg, kg m^2. */
  readonly inertiaKgM2: number;
  /** From the peg to the balance point, and to the sensor, m. */
  readonly balanceM: number;
  readonly sensorM: number;
  readonly amplitudeRad: number;
  /** Friction torque over rate, N m s. */
  readonly frictionNms: number;
  /** It hangs still so long before it is let go, s. */
  readonly stillS: number;
  readonly lastsS: number;
  readonly rateHz: number;
  /** How the sensor sits on it: rotation vector, rad. */
  readonly mounting: readonly [number, number, number];
  /** Sway out of the plane, a quarter of a swing behind, part of the swing itself. */
  readonly sway: number;
  /** 0 for a perfect sensor. */
  readonly errors: number;
}

/** A junior racket, peg 3 cm from the butt, a hand's width of swing. */
export const SWINGING_RACKET: SwingingImplement = {
  seed: 1,
  massKg: 0.24,
  inertiaKgM2: 0.028,
  balanceM: 0.29,
  sensorM: 0.2,
  amplitudeRad: 8 * RAD_PER_DEG,
  frictionNms: 0.0005,
  stillS: 3,
  lastsS: 40,
  rateHz: 200,
  mounting: [0.3, -0.8, 0.5],
  sway: 0,
  errors: 1,
};

const GYRO_NOISE = 0.007 * RAD_PER_DEG;
const GYRO_BIAS = 0.5 * RAD_PER_DEG;
const ACCEL_NOISE = 150e-6 * STANDARD_GRAVITY;
const GYRO_RANGE = 2000 * RAD_PER_DEG;
const ACCEL_RANGE = 16 * STANDARD_GRAVITY;
const STEPS_PER_SAMPLE = 4;

/**
 * What the sensor reads: I theta'' = -m g d sin theta - friction theta', by the classical Runge-Kutta method, nothing
 * about it small or linear.
 * Source: Kutta 1901; compound pendulum.
 */
export function simulateSwings(swinging: SwingingImplement): BenchRecording {
  const { rateHz, lastsS, stillS, errors, sensorM } = swinging;
  const random = seededRandom(swinging.seed);
  const n = Math.floor(lastsS * rateHz);
  const column = () => new Float64Array(n);
  const recording: BenchRecording = {
    timeS: Float64Array.from({ length: n }, (_, i) => i / rateHz),
    gyro: { x: column(), y: column(), z: column() },
    accel: { x: column(), y: column(), z: column() },
    gyroRangeRadS: GYRO_RANGE,
    accelRangeMS2: ACCEL_RANGE,
  };
  const perRoot = Math.sqrt(rateHz / 2) * errors;
  const qImplementFromSensor = fromRotationVector(quaternion(), ...swinging.mounting);
  const naturalRadS = Math.sqrt(
    (swinging.massKg * STANDARD_GRAVITY * swinging.balanceM) / swinging.inertiaKgM2,
  );
  let state: State = { angle: swinging.amplitudeRad, rate: 0 };
  for (let i = 0; i < n; i++) {
    const hangs = recording.timeS[i]! < stillS;
    const { angle, rate } = hangs ? { angle: 0, rate: 0 } : state;
    const turning = hangs ? 0 : accelerationOf(swinging, state);
    // x down along the implement, y to the side it swings to, z the peg
    const gyro = inSensor(qImplementFromSensor, 0, swinging.sway * naturalRadS * angle, rate);
    const accel = inSensor(
      qImplementFromSensor,
      -STANDARD_GRAVITY * Math.cos(angle) - sensorM * rate * rate,
      STANDARD_GRAVITY * Math.sin(angle) + sensorM * turning,
      0,
    );
    (['x', 'y', 'z'] as const).forEach((axis, k) => {
      const bias = errors * GYRO_BIAS * (k - 1);
      recording.gyro[axis][i] = gyro[k]! + bias + random.normal(GYRO_NOISE * perRoot);
      recording.accel[axis][i] = accel[k]! + random.normal(ACCEL_NOISE * perRoot);
    });
    for (let s = 0; s < STEPS_PER_SAMPLE && !hangs; s++) {
      state = stepped(swinging, state, 1 / (rateHz * STEPS_PER_SAMPLE));
    }
  }
  return recording;
}

interface State {
  readonly angle: number;
  readonly rate: number;
}

function inSensor(q: Quaternion, x: number, y: number, z: number): Float64Array {
  return rotateInverse(vector3(), q, vector3(x, y, z));
}

function accelerationOf(swinging: SwingingImplement, { angle, rate }: State): number {
  const { massKg, balanceM, inertiaKgM2, frictionNms } = swinging;
  const torque = massKg * STANDARD_GRAVITY * balanceM * Math.sin(angle) + frictionNms * rate;
  return -torque / inertiaKgM2;
}

function stepped(swinging: SwingingImplement, from: State, h: number): State {
  const slope = (state: State): State => ({
    angle: state.rate,
    rate: accelerationOf(swinging, state),
  });
  const along = (by: State, part: number): State => ({
    angle: from.angle + part * by.angle,
    rate: from.rate + part * by.rate,
  });
  const k1 = slope(from);
  const k2 = slope(along(k1, h / 2));
  const k3 = slope(along(k2, h / 2));
  const k4 = slope(along(k3, h));
  return {
    angle: from.angle + (h / 6) * (k1.angle + 2 * k2.angle + 2 * k3.angle + k4.angle),
    rate: from.rate + (h / 6) * (k1.rate + 2 * k2.rate + 2 * k3.rate + k4.rate),
  };
}
