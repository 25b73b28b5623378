import { circularSummary } from '../statistics/circular.ts';
import { isUnavailable, type Unavailable } from '../statistics/estimate.ts';
import { checkedCovariance } from '../statistics/moments.ts';
import { SWING_POINTS } from '../swings/swing.ts';
import type { MeasuredSwing } from './measured-swing.ts';
import { jointAngles, segmentAngles } from './segment-angles.ts';
import { fitSwingPlane, type SwingPlane } from './swing-plane.ts';

/** Below this spread, radians, an angle is the same in all swings but for rounding. */
const LEAST_SPREAD_RAD = 1e-9;

/** Points of the swing at which measures of angles are read that do not follow the whole course. */
export const TENTHS: readonly number[] = Array.from({ length: 11 }, (_, i) => 10 * i);

/** One angle of all swings, radians: at each of the 101 points a column of shape (n). */
export type AngleColumns = readonly Float64Array[];

/** In-plane angles of a set, side by side for statistics across swings. */
export interface ArmAngles {
  readonly n: number;
  readonly plane: SwingPlane;
  /** Segments in space. They share every turn of the whole arm. */
  readonly upperArm: AngleColumns;
  readonly forearm: AngleColumns;
  readonly implement: AngleColumns;
  /** Joints, each the distal segment less the proximal one: free of turns of the whole arm. */
  readonly elbow: AngleColumns;
  readonly wrist: AngleColumns;
}

/**
 * Angles of all swings in the set's own swing plane. Each swing's angles are given the whole turns that bring
 * its contact nearest to the mean direction of all, so that no swing stands a turn apart.
 * @param swings at least one
 * @returns why there is no plane, if there is none
 * Source: design.md section 9.
 * Checked: tests/measures/segment-angles.test.ts
 */
export function armAngles(swings: readonly MeasuredSwing[]): ArmAngles | Unavailable {
  const plane = fitSwingPlane(swings);
  if (isUnavailable(plane)) return plane;
  const angles = swings.map((swing) => segmentAngles(swing, plane));
  const joints = angles.map(jointAngles);
  const segments = angles.map(({ inPlaneRad }) => inPlaneRad);
  const segment = (k: number) => onOneTurn(columns(segments, 3, k));
  return {
    n: swings.length,
    plane,
    upperArm: segment(0),
    forearm: segment(1),
    implement: segment(2),
    elbow: onOneTurn(columns(joints.map(({ elbowRad }) => elbowRad))),
    wrist: onOneTurn(columns(joints.map(({ wristRad }) => wristRad))),
  };
}

/** Does an angle differ from swing to swing? @param angleRad shape (n), n >= 2 */
export function varies(angleRad: Float64Array): boolean {
  return checkedCovariance(angleRad, angleRad) > LEAST_SPREAD_RAD ** 2;
}

/** Swings side by side at each point. @param angles one array for each swing, of which every `size`-th is read */
function columns(angles: readonly Float64Array[], size = 1, offset = 0): Float64Array[] {
  return Array.from({ length: SWING_POINTS }, (_, point) => {
    const column = new Float64Array(angles.length);
    for (let i = 0; i < angles.length; i++) column[i] = angles[i]![size * point + offset]!;
    return column;
  });
}

function onOneTurn(angles: Float64Array[]): AngleColumns {
  const contact = angles.at(-1)!;
  const summary = circularSummary(contact);
  const mean = isUnavailable(summary) ? summary : summary.meanRad;
  if (isUnavailable(mean)) return angles;
  const centre = mean + 2 * Math.PI * Math.round((contact[0]! - mean) / (2 * Math.PI));
  for (const [swing, angle] of contact.entries()) {
    const turns = Math.round((centre - angle) / (2 * Math.PI));
    if (turns !== 0) for (const column of angles) column[swing]! += 2 * Math.PI * turns;
  }
  return angles;
}
