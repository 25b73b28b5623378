import { addScaled, cross, dot, norm, normalise, type Vector3, vector3 } from '../maths/vector.ts';
import type { Unavailable } from '../statistics/estimate.ts';
import { principalAxes } from '../statistics/principal-axes.ts';
import { SWING_POINTS } from '../swings/swing.ts';
import type { MeasuredSwing } from './measured-swing.ts';

/** The plane in which the sweet spot travels to contact; court frame, axes orthonormal. */
export interface SwingPlane {
  /** normal = first x second; the sweet spot turns anticlockwise about it, so in-plane angles grow toward contact. */
  readonly normal: Vector3;
  /** Where the sweet spot travels at contact, laid into the plane: in-plane angle 0. */
  readonly first: Vector3;
  /** In-plane angle of 90 degrees; the arm at contact points roughly the other way. */
  readonly second: Vector3;
  /** Root mean square distance of the path from the plane, metres. */
  readonly residualM: number;
}

const LAST = SWING_POINTS - 1;
/** The plane is that of the last 40 % of the swing: earlier the implement is still being drawn round. */
const FIRST_POINT = 60;
/** A path whose width is below this share of its length is a line: any plane through it fits. */
const LEAST_WIDTH = 1e-3;
/** Travel at contact is read over two points (2 % of a swing) to either knot of a parabola. */
const TRAVEL_STEP = 2;

/**
 * Best-fit plane of the sweet-spot path relative to the shoulder, over the last 40 % of all swings together:
 * least squares of the distances from it, through the centroid of the path.
 * @param swings at least one; 'no-direction' when the path is a line or does not travel in its plane
 * @returns 'not-finite' with the index of the swing that has a missing direction
 * Source: Pearson 1901, doi 10.1080/14786440109462720 (plane of closest fit).
 * Checked: tests/measures/swing-plane.test.ts
 */
export function fitSwingPlane(swings: readonly MeasuredSwing[]): SwingPlane | Unavailable {
  if (swings.length === 0) return { reason: 'too-few', need: 1, have: 0 };
  const index = swings.findIndex((swing) => !swing.directions.every(Number.isFinite));
  if (index >= 0) return { reason: 'not-finite', index };
  const paths = swings.map(sweetSpotPath);
  const { variances, axes } = principalAxes(scatter(paths));
  if (!(Math.sqrt(variances[1]!) > LEAST_WIDTH * Math.sqrt(variances[0]!)))
    return { reason: 'no-direction' };
  const normal = axes.slice(6, 9);
  const travel = travelAtContact(paths);
  const first = addScaled(vector3(), travel, -dot(travel, normal), normal);
  if (!(norm(first) > LEAST_WIDTH * Math.sqrt(variances[0]!))) return { reason: 'no-direction' };
  normalise(first, first);
  if (dot(turning(paths), normal) < 0)
    normal.forEach((x, i) => {
      normal[i] = -x;
    });
  return {
    normal,
    first,
    second: cross(vector3(), normal, first),
    residualM: Math.sqrt(Math.max(0, variances[2]!)),
  };
}

/** Shoulder to sweet spot, court frame, metres, shape (101, 3). */
function sweetSpotPath({ directions, lengthsM }: MeasuredSwing): Float64Array {
  const path = new Float64Array(SWING_POINTS * 3);
  for (let point = 0; point < SWING_POINTS; point++)
    for (let k = 0; k < 3; k++)
      for (let i = 0; i < 3; i++)
        path[3 * point + i]! += lengthsM[k]! * directions[9 * point + 3 * k + i]!;
  return path;
}

/** Mean squares and products about the centroid of the last 40 % of all paths, m^2, shape (3, 3). */
function scatter(paths: readonly Float64Array[]): Float64Array {
  const parts = paths.map((path) => path.subarray(FIRST_POINT * 3));
  const count = (parts[0]!.length / 3) * parts.length;
  const centre = vector3();
  for (const part of parts)
    for (let i = 0; i < part.length; i++) centre[i % 3]! += part[i]! / count;
  const sums = new Float64Array(9);
  for (const part of parts)
    for (let i = 0; i < part.length; i += 3)
      for (let row = 0; row < 3; row++)
        for (let column = 0; column < 3; column++)
          sums[3 * row + column]! +=
            ((part[i + row]! - centre[row]!) * (part[i + column]! - centre[column]!)) / count;
  return sums;
}

/** Mean path's direction at contact from the parabola through its last points, metres per step. */
function travelAtContact(paths: readonly Float64Array[]): Vector3 {
  const travel = vector3();
  for (const path of paths)
    for (let i = 0; i < 3; i++)
      travel[i]! +=
        (3 * path[LAST * 3 + i]! -
          4 * path[(LAST - TRAVEL_STEP) * 3 + i]! +
          path[(LAST - 2 * TRAVEL_STEP) * 3 + i]!) /
        (2 * paths.length);
  return travel;
}

/** Sum of path x step over the last 40 %: twice the area swept about the shoulder, as a vector. */
function turning(paths: readonly Float64Array[]): Vector3 {
  const total = vector3();
  for (const path of paths)
    for (let at = 3 * FIRST_POINT; at < 3 * LAST; at += 3)
      for (let i = 0; i < 3; i++) {
        const [j, k] = [(i + 1) % 3, (i + 2) % 3];
        total[i]! += path[at + j]! * path[at + 3 + k]! - path[at + k]! * path[at + 3 + j]!;
      }
  return total;
}
