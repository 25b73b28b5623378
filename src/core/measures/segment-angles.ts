import { wrapAngle } from '../maths/angles.ts';
import { SWING_POINTS } from '../swings/swing.ts';
import type { MeasuredSwing } from './measured-swing.ts';
import type { SwingPlane } from './swing-plane.ts';

/** Angles of upper arm, forearm and implement of one swing, radians, shape (101, 3 segments), row-major. */
export interface SegmentAngles {
  /** From the plane's first axis, growing toward the second; continuous along the swing. */
  readonly inPlaneRad: Float64Array;
  /** Out of the plane toward its normal, in [-pi/2, pi/2]. */
  readonly outOfPlaneRad: Float64Array;
}

/** Relative angles of the joints in the plane, radians, shape (101). */
export interface JointAngles {
  /** Forearm less upper arm. */
  readonly elbowRad: Float64Array;
  /** Implement less forearm. */
  readonly wristRad: Float64Array;
}

/** The arm at contact points roughly across its travel. */
const USUAL_UPPER_ARM_RAD = -Math.PI / 2;

/**
 * In-plane and out-of-plane angles of the segments. Each in-plane angle is followed without jumps from contact
 * back to the start. At contact the upper arm is given the turn nearest to across the travel, forearm and
 * implement the turn nearest to their proximal neighbour, so that the same posture gets the same numbers in
 * every swing. A segment almost at right angles to the plane has an in-plane angle that means little.
 * @param plane of the set the swing belongs to
 * Source: design.md section 9.
 * Checked: tests/measures/segment-angles.test.ts
 */
export function segmentAngles(swing: MeasuredSwing, plane: SwingPlane): SegmentAngles {
  const inPlaneRad = new Float64Array(SWING_POINTS * 3);
  const outOfPlaneRad = new Float64Array(SWING_POINTS * 3);
  const { first, second, normal } = plane;
  for (let i = 0; i < inPlaneRad.length; i++) {
    const a = swing.directions[3 * i]!;
    const b = swing.directions[3 * i + 1]!;
    const c = swing.directions[3 * i + 2]!;
    const x = a * first[0]! + b * first[1]! + c * first[2]!;
    const y = a * second[0]! + b * second[1]! + c * second[2]!;
    const up = a * normal[0]! + b * normal[1]! + c * normal[2]!;
    inPlaneRad[i] = Math.atan2(y, x);
    outOfPlaneRad[i] = Math.atan2(up, Math.sqrt(x * x + y * y));
  }
  const contact = inPlaneRad.length - 3;
  let neighbour = USUAL_UPPER_ARM_RAD;
  for (let segment = 0; segment < 3; segment++) {
    inPlaneRad[contact + segment] = nearestTurn(inPlaneRad[contact + segment]!, neighbour);
    neighbour = inPlaneRad[contact + segment]!;
  }
  for (let i = contact - 1; i >= 0; i--)
    inPlaneRad[i] = nearestTurn(inPlaneRad[i]!, inPlaneRad[i + 3]!);
  return { inPlaneRad, outOfPlaneRad };
}

/**
 * Elbow and wrist as differences of neighbouring in-plane angles: what a turn of the whole arm leaves alone.
 */
export function jointAngles({ inPlaneRad }: SegmentAngles): JointAngles {
  const difference = (distal: number) =>
    Float64Array.from(
      { length: SWING_POINTS },
      (_, point) => inPlaneRad[3 * point + distal]! - inPlaneRad[3 * point + distal - 1]!,
    );
  return { elbowRad: difference(1), wristRad: difference(2) };
}

/** The angle plus whole turns that lies nearest to another. */
function nearestTurn(angleRad: number, toRad: number): number {
  return toRad + wrapAngle(angleRad - toRad);
}
