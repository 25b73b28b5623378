import type { Quaternion } from '../maths/quaternion.ts';
import { VQF_DEFAULTS } from '../orientation/vqf-filter.ts';
import { GRID_STEP_US } from './arm-timeline.ts';

/**
 * How far a sensor's vertical has tilted for each part of its gyroscope's error matrix M (measured rate =
 * (I + M) true rate, sensor frame): theta_r = sum over i, j of tilt[r, i, j] M[i, j], r the horizontal axes of
 * the earth frame. The tilt grows by R M w dt while the sensor turns, and the filter takes it back with its time
 * constant. Shape (2, 3, 3), row-major, rad. Plain data.
 */
export type GyroTilt = Float64Array;

/** Parts of the error matrix of one gyroscope. */
export const GYRO_ERRORS = 9;

const KEPT = 1 - (GRID_STEP_US * 1e-6) / VQF_DEFAULTS.tauAccS;
const added = new Float64Array(2 * GYRO_ERRORS);

/** A vertical as the filter found it at rest. */
export function createGyroTilt(): GyroTilt {
  return new Float64Array(2 * GYRO_ERRORS);
}

/**
 * On by one instant of the timeline. Allocation-free.
 * @param q columns of qEarthFromSensor @param from, to where the earlier and the later one begin in it
 * Source: own; linear in M, after the error equation of strapdown integration (Titterton & Weston, Strapdown
 * Inertial Navigation Technology, section 12.3, from memory).
 * Checked: tests/arm/gyro-tilt.test.ts against an integration with the faulty rates.
 */
export function addGyroTilt(tilt: GyroTilt, q: Float64Array, from: number, to: number): void {
  tiltOfTurn(q, from, to);
  for (let i = 0; i < 2 * GYRO_ERRORS; i++) tilt[i] = KEPT * tilt[i]! + added[i]!;
}

/** Back by one instant: undoes {@link addGyroTilt}. Source and Checked as there. */
export function removeGyroTilt(tilt: GyroTilt, q: Float64Array, from: number, to: number): void {
  tiltOfTurn(q, from, to);
  for (let i = 0; i < added.length; i++) tilt[i] = (tilt[i]! - added[i]!) / KEPT;
}

/** R M (w dt) of one turn, into `added`: linear in it, since it is a few degrees. */
function tiltOfTurn(q: Quaternion, from: number, to: number): void {
  const pw = q[from]!,
    px = q[from + 1]!,
    py = q[from + 2]!,
    pz = q[from + 3]!;
  const w = q[to]!,
    x = q[to + 1]!,
    y = q[to + 2]!,
    z = q[to + 3]!;
  const turnedX = 2 * (pw * x - px * w - py * z + pz * y);
  const turnedY = 2 * (pw * y + px * z - py * w - pz * x);
  const turnedZ = 2 * (pw * z - px * y + py * x - pz * w);
  setParts(0, 1 - 2 * (y * y + z * z), turnedX, turnedY, turnedZ);
  setParts(3, 2 * (x * y - w * z), turnedX, turnedY, turnedZ);
  setParts(6, 2 * (x * z + w * y), turnedX, turnedY, turnedZ);
  setParts(GYRO_ERRORS, 2 * (x * y + w * z), turnedX, turnedY, turnedZ);
  setParts(GYRO_ERRORS + 3, 1 - 2 * (x * x + z * z), turnedX, turnedY, turnedZ);
  setParts(GYRO_ERRORS + 6, 2 * (y * z - w * x), turnedX, turnedY, turnedZ);
}

function setParts(at: number, r: number, x: number, y: number, z: number): void {
  added[at] = r * x;
  added[at + 1] = r * y;
  added[at + 2] = r * z;
}
