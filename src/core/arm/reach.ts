import { RAD_PER_DEG } from '../maths/angles.ts';
import { cross, norm, type Vector3, vector3 } from '../maths/vector.ts';

/** How well the headings at elbow and wrist are known for one swing, SDs in rad. */
export interface HeadingUncertainty {
  readonly elbowRad: number;
  readonly wristRad: number;
}

/** Errors of one reach, metres, 1 SD. */
export interface ReachError {
  /** What differs from swing to swing: it widens the funnel. */
  noiseM: number;
  /** What stays the same for a whole set: it shifts every reach alike. */
  systematicM: number;
}

/** How well each segment's direction is known but for the headings, SDs in rad; see `npm run accuracy`. */
export interface TiltUncertainty {
  /** Inclination after swings, per horizontal axis, from swing to swing. */
  readonly noiseRad: number;
  /**
   * Direction of each long axis in its sensor: an accelerometer bias of up to 30 mg and cross-axis errors of 1 % tilt
   * the gravity of the poses, gyroscope errors every swing alike. How well the player hangs and points is not in it.
   */
  readonly longAxisRad: number;
}

export const TILT_SEEN_LIVE: TiltUncertainty = {
  noiseRad: 0.44 * RAD_PER_DEG,
  longAxisRad: 1.1 * RAD_PER_DEG,
};
/** Without what the set's swings together say of the gyroscopes' errors (src/core/arm/gyro-evidence.ts). */
export const TILT_IN_REVIEW: TiltUncertainty = {
  noiseRad: 0.36 * RAD_PER_DEG,
  longAxisRad: 0.85 * RAD_PER_DEG,
};
/** Scale errors and lever arms turn every window of heading agreement alike by about this much (SD). */
const HEADING_SYSTEMATIC_RAD = 0.7 * RAD_PER_DEG;

/** Sum of the segment vectors: shoulder to sweet spot. @param parts three of shape (3), metres, one common frame */
export function reachVectorOf(out: Vector3, parts: readonly Vector3[]): Vector3 {
  for (let i = 0; i < 3; i++) out[i] = parts[0]![i]! + parts[1]![i]! + parts[2]![i]!;
  return out;
}

const total = vector3();
const turn = vector3();

/**
 * Errors of the reach from orientation errors.
 * A small turn e (rotation vector) of segment k changes the reach by e . (p_k x v) / |v|; a heading error at
 * the elbow turns forearm and implement together about the vertical, one at the wrist the implement alone.
 * @param parts segment vectors, three of shape (3), metres, z up
 * @param tilt what is known live, or in review
 * @param out overwritten
 */
export function reachError(
  out: ReachError,
  parts: readonly Vector3[],
  heading: HeadingUncertainty,
  tilt: TiltUncertainty,
): void {
  reachVectorOf(total, parts);
  const r = norm(total);
  let elbowArm = 0;
  let wristArm = 0;
  let inclination = 0;
  let axis = 0;
  for (let k = 0; k < 3; k++) {
    cross(turn, parts[k]!, total);
    const x = turn[0]! / r;
    const y = turn[1]! / r;
    const z = turn[2]! / r;
    inclination += x * x + y * y;
    axis += x * x + y * y + z * z;
    if (k > 0) elbowArm += z;
    if (k > 1) wristArm += z;
  }
  const elbow = elbowArm * heading.elbowRad;
  const wrist = wristArm * heading.wristRad;
  out.noiseM = Math.sqrt(elbow * elbow + wrist * wrist + tilt.noiseRad ** 2 * inclination);
  out.systematicM = Math.sqrt(
    tilt.longAxisRad ** 2 * axis +
      HEADING_SYSTEMATIC_RAD ** 2 * (elbowArm * elbowArm + wristArm * wristArm),
  );
}
