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

/** A vertical as the filter found it at rest. */
export function createGyroTilt(): GyroTilt {
  return new Float64Array(2 * GYRO_ERRORS);
}

/**
 * On by one instant of the timeline, or by a few over which the sensor hardly turns. Allocation-free.
 * @param q columns of qEarthFromSensor @param from, to where the earlier and the later one begin in it
 * @param instants between the two
 * Source: own; linear in M, after the error equation of strapdown integration (Titterton & Weston, Strapdown
 * Inertial Navigation Technology, section 12.3, from memory).
 * Checked: tests/arm/gyro-tilt.test.ts against an integration with the faulty rates.
 */
export function addGyroTilt(
  tilt: GyroTilt,
  q: Float64Array,
  from: number,
  to: number,
  instants = 1,
): void {
  const kept = instants === 1 ? KEPT : KEPT ** instants;
  fillHorizontal(q, to);
  fillTurned(q, from, to);
  const x = turned[0]!,
    y = turned[1]!,
    z = turned[2]!;
  for (let n = 0, i = 0; n < 6; n++, i += 3) {
    const r = horizontal[n]!;
    tilt[i] = kept * tilt[i]! + r * x;
    tilt[i + 1] = kept * tilt[i + 1]! + r * y;
    tilt[i + 2] = kept * tilt[i + 2]! + r * z;
  }
}

/** Back by one instant: undoes {@link addGyroTilt}. Source and Checked as there. */
export function removeGyroTilt(tilt: GyroTilt, q: Float64Array, from: number, to: number): void {
  fillHorizontal(q, to);
  fillTurned(q, from, to);
  for (let i = 0; i < 2 * GYRO_ERRORS; i++) {
    tilt[i] = (tilt[i]! - horizontal[Math.floor(i / 3)]! * turned[i % 3]!) / KEPT;
  }
}

// Scratch memory: the two horizontal rows of R, and w dt of one turn in the sensor frame.
const horizontal = new Float64Array(6);
const turned = new Float64Array(3);

function fillHorizontal(q: Quaternion, at: number): void {
  const w = q[at]!,
    x = q[at + 1]!,
    y = q[at + 2]!,
    z = q[at + 3]!;
  horizontal[0] = 1 - 2 * (y * y + z * z);
  horizontal[1] = 2 * (x * y - w * z);
  horizontal[2] = 2 * (x * z + w * y);
  horizontal[3] = 2 * (x * y + w * z);
  horizontal[4] = 1 - 2 * (x * x + z * z);
  horizontal[5] = 2 * (y * z - w * x);
}

/** Linear in the turn, since it is a few degrees. */
function fillTurned(q: Quaternion, from: number, to: number): void {
  const pw = q[from]!,
    px = q[from + 1]!,
    py = q[from + 2]!,
    pz = q[from + 3]!;
  const w = q[to]!,
    x = q[to + 1]!,
    y = q[to + 2]!,
    z = q[to + 3]!;
  turned[0] = 2 * (pw * x - px * w - py * z + pz * y);
  turned[1] = 2 * (pw * y + px * z - py * w - pz * x);
  turned[2] = 2 * (pw * z - px * y + py * x - pz * w);
}
