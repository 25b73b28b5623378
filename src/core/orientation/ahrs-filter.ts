import AHRS from 'ahrs';
import { normaliseQuaternion, type Quaternion, quaternion } from '../maths/quaternion.ts';
import type { Vector3 } from '../maths/vector.ts';

/** Filters of the `ahrs` package, kept as an independent yardstick. */
export type AhrsMethod = 'madgwick' | 'mahony';

/** One running `ahrs` filter. Its memory sits inside the package: it can be neither saved nor resumed. */
export interface AhrsState {
  readonly ahrs: AHRS;
  readonly qEarthFromSensor: Quaternion;
  /** Whether the first sample has been used to find up. */
  levelled: boolean;
}

/**
 * Madgwick's gain 0.12 and Mahony's 0.74 / 0.0012 are the common tuned values published with the
 * BROAD data set (Laidig et al. 2021, Data 6(7):72, doi 10.3390/data6070072); the package's own
 * default of 0.4 pulls the inclination along with every swing.
 */
export function createAhrs(method: AhrsMethod, intervalS: number): AhrsState {
  const sampleInterval = 1000 * intervalS;
  const ahrs =
    method === 'madgwick'
      ? new AHRS({ sampleInterval, algorithm: 'Madgwick', beta: 0.12 })
      : new AHRS({ sampleInterval, algorithm: 'Mahony', kp: 0.74, ki: 0.0012 });
  return { ahrs, qEarthFromSensor: quaternion(), levelled: false };
}

/**
 * One sample through `ahrs`.
 * @param gyr rad/s @param acc m/s^2, both sensor frame, shape (3)
 * @param dtS seconds since the previous sample @param useAccel false inside a contact shock
 *
 * Three faults of ahrs 1.3.3 are guarded. Its Madgwick divides by the length of the gradient, which is 0
 * for a resting sensor that is exactly level or exactly upside down, and answers NaN from then on: a sample
 * without error is fed without accelerometer, and the first sample levels the filter, so that it never
 * starts upside down. Its Mahony ignores a sample of which any single component is exactly 0, which int16
 * makes common: such a component is fed as a trace.
 */
export function stepAhrs(
  state: AhrsState,
  gyr: Vector3,
  acc: Vector3,
  dtS: number,
  useAccel: boolean,
): void {
  const { ahrs, qEarthFromSensor: q } = state;
  if (!state.levelled) level(state, acc);
  const length = Math.hypot(acc[0]!, acc[1]!, acc[2]!);
  // third row of the rotation matrix: "up" in the sensor frame
  const ux = 2 * (q[1]! * q[3]! - q[0]! * q[2]!);
  const uy = 2 * (q[2]! * q[3]! + q[0]! * q[1]!);
  const uz = 1 - 2 * (q[1]! * q[1]! + q[2]! * q[2]!);
  const error = Math.hypot(acc[0]! / length - ux, acc[1]! / length - uy, acc[2]! / length - uz);
  const feed = useAccel && length > 0 && error > 1e-9;
  ahrs.update(
    gyr[0]!,
    gyr[1]!,
    gyr[2]!,
    feed ? notZero(acc[0]!) : 0,
    feed ? notZero(acc[1]!) : 0,
    feed ? notZero(acc[2]!) : 0,
    undefined,
    undefined,
    undefined,
    dtS,
  );
  read(state);
}

function notZero(accMS2: number): number {
  return accMS2 === 0 ? 1e-9 : accMS2;
}

/** Turns the fresh filter so that the measured specific force points up. */
function level(state: AhrsState, acc: Vector3): void {
  state.levelled = true;
  const length = Math.hypot(acc[0]!, acc[1]!, acc[2]!);
  if (!(length > 0)) return;
  const up = acc[2]! / length;
  const angle = Math.acos(Math.max(-1, Math.min(1, up)));
  const horizontal = Math.hypot(acc[0]!, acc[1]!);
  const axisX = horizontal > 1e-9 ? acc[1]! / horizontal : 1;
  const axisY = horizontal > 1e-9 ? -acc[0]! / horizontal : 0;
  // One first-order step from the identity gives (1, rate dt / 2), normalised: with the tangent of
  // the half angle that is exactly the turn wanted.
  const rate = 2 * Math.tan(angle / 2);
  state.ahrs.update(axisX * rate, axisY * rate, 0, 0, 0, 0, undefined, undefined, undefined, 1);
  read(state);
}

function read(state: AhrsState): void {
  const { w, x, y, z } = state.ahrs.getQuaternion();
  state.qEarthFromSensor.set([w, x, y, z]);
  normaliseQuaternion(state.qEarthFromSensor);
}
