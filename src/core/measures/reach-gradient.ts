import { addScaled, cross, dot, norm, type Vector3, vector3 } from '../maths/vector.ts';
import type { Unavailable } from '../statistics/estimate.ts';
import type { MeasuredSwing } from './measured-swing.ts';

/** The mean arm of a set at one point of the swing, seen in its swing plane. */
export interface MeanArm {
  /** d reach/d in-plane angle of upper arm, forearm, implement, metres per radian; they add up to 0. */
  readonly segmentGradient: readonly [number, number, number];
  /** d reach/d elbow and wrist. */
  readonly jointGradient: readonly [number, number];
  /** Reach of the mean arm, metres. */
  readonly reachM: number;
  /** Lengths of the segments laid into the plane, and what all together stand out of it, metres. */
  readonly inPlaneM: readonly [number, number, number];
  readonly outOfPlaneM: number;
}

/** A mean of unit vectors shorter than this points nowhere in particular. */
const LEAST_MEAN = 0.1;

/**
 * Gradient of reach r = |sum L_k d_k| by the in-plane angles at the mean direction of each segment:
 *   dr/dtheta_k = L_k (normal x d_k) . v/|v|
 * With joint angles the elbow turns forearm and implement, the wrist the implement.
 * @param swings at least one, of one player @param normal of their swing plane @param point 0 to 100
 * @returns 'no-direction' when a segment points every way or the mean reach is nothing
 * Checked: tests/measures/manifold-through-swing.test.ts, closed form of a planar arm
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
  const reachM = norm(tip);
  if (!(reachM > LEAST_MEAN * lengths[2]!)) return { reason: 'no-direction' };
  const gradient = vectors.map((vector) => dot(cross(vector3(), normal, vector), tip) / reachM);
  const [upperArm, forearm, implement] = gradient as [number, number, number];
  const inPlane = vectors.map((vector) => norm(cross(vector3(), normal, vector)));
  return {
    segmentGradient: [upperArm, forearm, implement],
    jointGradient: [forearm + implement, implement],
    reachM,
    inPlaneM: inPlane as [number, number, number],
    outOfPlaneM: dot(tip, normal),
  };
}

/** Reach of the mean arm with other joint angles, metres. */
export function reachOfJoints(
  { inPlaneM: [upperArm, forearm, implement], outOfPlaneM }: MeanArm,
  elbowRad: number,
  wristRad: number,
): number {
  const along = upperArm + forearm * Math.cos(elbowRad) + implement * Math.cos(elbowRad + wristRad);
  const across = forearm * Math.sin(elbowRad) + implement * Math.sin(elbowRad + wristRad);
  return Math.hypot(along, across, outOfPlaneM);
}
