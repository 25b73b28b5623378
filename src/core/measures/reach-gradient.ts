import { addScaled, cross, dot, norm, type Vector3, vector3 } from '../maths/vector.ts';
import type { Unavailable } from '../statistics/estimate.ts';
import type { MeasuredSwing } from './measured-swing.ts';

/** The mean arm of a set at one point of the swing, laid into its swing plane. */
export interface MeanArm {
  /** Lengths of the segments in the plane, and what all together stand out of it, metres. */
  readonly inPlaneM: readonly [number, number, number];
  readonly outOfPlaneM: number;
}

/** A mean of unit vectors shorter than this points nowhere in particular. */
const LEAST_MEAN = 0.1;

/**
 * The arm whose segments point in their mean directions: how much of each lies in the swing plane.
 * @param swings at least one, of one player @param normal of their swing plane @param point 0 to 100
 * @returns 'no-direction' when a segment points every way or the mean reach is nothing
 * Source: mean direction: Mardia & Jupp, Directional Statistics, ch. 9 (from memory).
 * Checked: tests/measures/manifold-through-swing.test.ts
 */
export function meanArm(
  swings: readonly MeasuredSwing[],
  normal: Vector3,
  point: number,
): MeanArm | Unavailable {
  const lengths = swings[0]!.lengthsM;
  const vectors = [vector3(), vector3(), vector3()];
  for (const { directions } of swings)
    for (let j = 0; j < 9; j++) vectors[Math.floor(j / 3)]![j % 3]! += directions[9 * point + j]!;
  const tip = vector3();
  for (const [k, vector] of vectors.entries()) {
    const length = norm(vector);
    if (!(length > LEAST_MEAN * swings.length)) return { reason: 'no-direction' };
    for (let i = 0; i < 3; i++) vector[i]! *= lengths[k]! / length;
    addScaled(tip, tip, 1, vector);
  }
  if (!(norm(tip) > LEAST_MEAN * lengths[2]!)) return { reason: 'no-direction' };
  const inPlane = vectors.map((vector) => norm(cross(vector3(), normal, vector)));
  return { inPlaneM: inPlane as [number, number, number], outOfPlaneM: dot(tip, normal) };
}

/**
 * Gradient of reach by the in-plane angles of upper arm, forearm, implement:
 *   dr/dtheta_k = L_k (y cos theta_k - x sin theta_k)/r,  (x, y) = sum L_k (cos theta_k, sin theta_k)
 * @returns metres per radian; the three add up to 0, since a turn of the whole arm leaves reach alone; NaN without reach
 * Source: forward kinematics.
 * Checked: tests/measures/manifold-through-swing.test.ts, Jacobian of a planar arm
 */
export function segmentGradient(
  { inPlaneM, outOfPlaneM }: MeanArm,
  anglesRad: readonly number[],
): number[] {
  let x = 0;
  let y = 0;
  for (const [k, length] of inPlaneM.entries()) {
    x += length * Math.cos(anglesRad[k]!);
    y += length * Math.sin(anglesRad[k]!);
  }
  const reach = Math.hypot(x, y, outOfPlaneM);
  return inPlaneM.map(
    (length, k) => (length * (y * Math.cos(anglesRad[k]!) - x * Math.sin(anglesRad[k]!))) / reach,
  );
}

/**
 * Gradient of reach by elbow and wrist: the elbow turns forearm and implement, the wrist the implement.
 * @returns metres per radian; NaN without reach
 * Source, Checked: as segmentGradient.
 */
export function jointGradient(
  arm: MeanArm,
  [elbowRad, wristRad]: readonly number[],
): [elbow: number, wrist: number] {
  const [, forearm, implement] = segmentGradient(arm, [0, elbowRad!, elbowRad! + wristRad!]);
  return [forearm! + implement!, implement!];
}

/**
 * Reach of the mean arm with other joint angles, metres.
 * Source: forward kinematics.  Checked: tests/measures/manifold-through-swing.test.ts
 */
export function reachOfJoints(
  { inPlaneM: [upperArm, forearm, implement], outOfPlaneM }: MeanArm,
  elbowRad: number,
  wristRad: number,
): number {
  const along = upperArm + forearm * Math.cos(elbowRad) + implement * Math.cos(elbowRad + wristRad);
  const across = forearm * Math.sin(elbowRad) + implement * Math.sin(elbowRad + wristRad);
  return Math.hypot(along, across, outOfPlaneM);
}
