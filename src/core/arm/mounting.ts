import { DEG_PER_RAD, RAD_PER_DEG } from '../maths/angles.ts';
import { conjugate, fromAxes, type Quaternion, quaternion } from '../maths/quaternion.ts';
import {
  addScaled,
  angleBetween,
  cross,
  dot,
  normalise,
  type Vector3,
  vector3,
} from '../maths/vector.ts';
import { SEGMENT_WORDS, SEGMENTS } from './segments.ts';

/**
 * How each sensor sits on its segment. Segment frame: x along the segment away from the shoulder,
 * z up and y left when pointing level at the target, thumb up.
 */
export interface Mounting {
  /** Long axis in each sensor's frame, unit, three of shape (3). */
  readonly longAxis: readonly [Vector3, Vector3, Vector3];
  /** Known after the pointing pose; null before. */
  readonly qSegmentFromSensor: readonly [Quaternion, Quaternion, Quaternion] | null;
}

/** Largest deviation from a right angle between the two gravity readings of a sensor. */
const RIGHT_ANGLE_TOLERANCE_RAD = 15 * RAD_PER_DEG;
/** Largest dip of one segment against the mean of the two others. */
const STRAIGHT_TOLERANCE_RAD = 12 * RAD_PER_DEG;
/** A second hold this close to the first is still the first pose. */
export const SAME_POSE_RAD = 30 * RAD_PER_DEG;

/**
 * Long axes from the plumb pose: everything hangs, so the segments point down, d_S = -a/|a|.
 * @param gravity mean specific force of each sensor, sensor frame, three of shape (3)
 */
export function mountingFromPlumb(gravity: readonly Vector3[]): Mounting {
  const down = (k: number) =>
    normalise(vector3(), addScaled(vector3(), vector3(), -1, gravity[k]!));
  return { longAxis: [down(0), down(1), down(2)], qSegmentFromSensor: null };
}

/** Largest turn of any sensor between two still spells, radians. */
export function largestTurn(a: readonly Vector3[], b: readonly Vector3[]): number {
  return Math.max(...a.map((v, k) => angleBetween(v, b[k]!)));
}

/**
 * Completes the mounting from the pointing pose: gravity gives the second axis.
 * @returns the mounting, or what was wrong with the pose in words a coach can act on
 */
export function mountingFromPoint(
  plumb: Mounting,
  gravity: readonly Vector3[],
):
  | { readonly ok: true; readonly mounting: Mounting }
  | { readonly ok: false; readonly problem: string } {
  // Angle of each long axis below the horizontal; specific force points up.
  const dips = plumb.longAxis.map((axis, k) => angleBetween(axis, gravity[k]!) - Math.PI / 2);
  const problem = levelProblem(dips) ?? straightProblem(dips);
  if (problem !== null) return { ok: false, problem };
  const turn = (k: number) => segmentFrame(plumb.longAxis[k]!, gravity[k]!);
  return {
    ok: true,
    mounting: { longAxis: plumb.longAxis, qSegmentFromSensor: [turn(0), turn(1), turn(2)] },
  };
}

function levelProblem(dipsRad: readonly number[]): string | null {
  const off = dipsRad.flatMap((dip, k) =>
    Math.abs(dip) > RIGHT_ANGLE_TOLERANCE_RAD ? [`${dipWords(k, dip)} level`] : [],
  );
  if (off.length === 0) return null;
  return `${off.join(', ')}. Hold arm and implement level at the target.`;
}

/**
 * A straight arm dips alike all along. One segment that does not was held askew in this pose or in the first,
 * which gravity cannot tell apart.
 */
function straightProblem(dipsRad: readonly number[]): string | null {
  const sum = dipsRad.reduce((total, dip) => total + dip, 0);
  const off = dipsRad.map((dip) => dip - (sum - dip) / 2);
  const worst = off.reduce((at, dip, k) => (Math.abs(dip) > Math.abs(off[at]!) ? k : at), 0);
  if (Math.abs(off[worst]!) <= STRAIGHT_TOLERANCE_RAD) return null;
  const words = dipWords(worst, off[worst]!);
  return `${words} the rest of the arm. Let everything hang once more, then hold arm and implement in one line at the target.`;
}

function dipWords(k: number, dipRad: number): string {
  const size = Math.round(Math.abs(dipRad) * DEG_PER_RAD);
  return `${SEGMENT_WORDS[SEGMENTS[k]!]} ${size}° ${dipRad > 0 ? 'below' : 'above'}`;
}

function segmentFrame(longAxis: Vector3, up: Vector3): Quaternion {
  const z = normalise(vector3(), addScaled(vector3(), up, -dot(up, longAxis), longAxis));
  const y = cross(vector3(), z, longAxis);
  const qSensorFromSegment = fromAxes(quaternion(), longAxis, y, z);
  return conjugate(qSensorFromSegment, qSensorFromSegment);
}
