import { SEGMENTS } from '../arm/segments.ts';
import {
  fromRotationVector,
  multiply,
  type Quaternion,
  quaternion,
  rotate,
} from '../maths/quaternion.ts';
import { norm, type Vector3, vector3 } from '../maths/vector.ts';

/**
 * Channels of the movement, per segment: turn about the vertical, dip below the horizontal, twist
 * about the long axis (radians); then the shoulder's position x, y, z (metres, court frame).
 *   qCourtFromSegment = Rz(turn) Ry(dip) Rx(twist)
 * Segment frame: x along the segment away from the shoulder, z up and y left when pointing level
 * at the target with the thumb up; all zero is that pose.
 */
export const ARM_CHANNELS = 12;
const SHOULDER_CHANNEL = 9;

const qz = quaternion();
const qy = quaternion();
const qx = quaternion();

/** Orientation of one segment. @param channels shape (12), radians @param segment 0 upper arm .. 2 implement */
export function segmentOrientation(
  out: Quaternion,
  channels: Float64Array,
  segment: number,
): Quaternion {
  fromRotationVector(qz, 0, 0, channels[3 * segment]!);
  fromRotationVector(qy, 0, channels[3 * segment + 1]!, 0);
  fromRotationVector(qx, channels[3 * segment + 2]!, 0, 0);
  return multiply(out, multiply(out, qz, qy), qx);
}

const q = quaternion();
const along = vector3();
const part = vector3();

/**
 * Reach vector: shoulder to sweet spot, court frame, metres.
 * @param channels shape (12) @param lengthsM upper arm, forearm, implement, shape (3)
 */
export function reachVector(
  out: Vector3,
  channels: Float64Array,
  lengthsM: readonly number[],
): Vector3 {
  out.fill(0);
  for (let k = 0; k < SEGMENTS.length; k++) {
    segmentOrientation(q, channels, k);
    along[0] = lengthsM[k]!;
    rotate(part, q, along);
    for (let i = 0; i < 3; i++) out[i] = out[i]! + part[i]!;
  }
  return out;
}

const whole = vector3();

/** Reach, metres. */
export function reachOf(channels: Float64Array, lengthsM: readonly number[]): number {
  return norm(reachVector(whole, channels, lengthsM));
}

/**
 * Position of a point fixed to a segment, court frame, metres.
 * @param offset the point in the segment frame, from the segment's upper joint, shape (3)
 */
export function pointOnSegment(
  out: Vector3,
  channels: Float64Array,
  lengthsM: readonly number[],
  segment: number,
  offset: Vector3,
): Vector3 {
  for (let i = 0; i < 3; i++) out[i] = channels[SHOULDER_CHANNEL + i]!;
  for (let k = 0; k <= segment; k++) {
    segmentOrientation(q, channels, k);
    along[0] = lengthsM[k]!;
    rotate(part, q, k < segment ? along : offset);
    for (let i = 0; i < 3; i++) out[i] = out[i]! + part[i]!;
  }
  return out;
}
