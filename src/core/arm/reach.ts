import { RAD_PER_DEG } from '../maths/angles.ts';
import { norm, type Vector3, vector3 } from '../maths/vector.ts';

/** What is uncertain about a pose of the arm. SDs in rad and s. */
export interface PoseUncertainty {
  /** SD of the heading turns at elbow and wrist. */
  readonly elbowRad: number;
  readonly wristRad: number;
}

/** SD of each segment's inclination after swings, per horizontal axis; measured, see DEVELOPERS.md. */
export const INCLINATION_SD_RAD = 0.5 * RAD_PER_DEG;

/** Sum of the segment vectors: shoulder to sweet spot. @param parts three of shape (3), metres, one common frame */
export function reachVectorOf(out: Vector3, parts: readonly Vector3[]): Vector3 {
  for (let i = 0; i < 3; i++) out[i] = parts[0]![i]! + parts[1]![i]! + parts[2]![i]!;
  return out;
}

const total = vector3();

/**
 * Standard error of the reach from orientation errors.
 * A small turn e (rotation vector) of segment k changes the reach by e . (p_k x v) / |v|; a heading error at
 * the elbow turns forearm and implement together about the vertical, one at the wrist the implement alone.
 * @param parts segment vectors, three of shape (3), metres, z up
 * @returns metres
 */
export function reachStandardError(
  parts: readonly Vector3[],
  uncertainty: PoseUncertainty,
): number {
  reachVectorOf(total, parts);
  const r = norm(total);
  const turn = (k: number, axis: 0 | 1 | 2) => {
    const p = parts[k]!;
    const a = (axis + 1) % 3;
    const b = (axis + 2) % 3;
    return (p[a]! * total[b]! - p[b]! * total[a]!) / r;
  };
  const elbow = (turn(1, 2) + turn(2, 2)) * uncertainty.elbowRad;
  const wrist = turn(2, 2) * uncertainty.wristRad;
  let variance = elbow * elbow + wrist * wrist;
  for (let k = 0; k < 3; k++) {
    variance += INCLINATION_SD_RAD ** 2 * (turn(k, 0) ** 2 + turn(k, 1) ** 2);
  }
  return Math.sqrt(variance);
}
