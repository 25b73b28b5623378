import { cross, dot, norm, normalise, type Vector3, vector3 } from '../maths/vector.ts';
import type { Unavailable } from '../statistics/estimate.ts';
import type { MeasuredSwing } from './measured-swing.ts';

/** How the directions of a set deviate from its mean posture at some points of the swing. */
export interface PostureDeviations {
  readonly n: number;
  readonly postures: readonly MeanPosture[];
  /**
   * Turn of each segment from its mean direction, along two axes across it: radians, shape
   * (points, n, 6), two for each segment.
   */
  readonly turnRad: Float64Array;
  /** Upper arm, forearm, implement, metres. */
  readonly lengthsM: readonly [number, number, number];
}

/** Mean direction of each segment, and two axes at right angles to it and to each other. */
export interface MeanPosture {
  readonly directions: readonly Vector3[];
  /** Two for each segment, six in all. */
  readonly axes: readonly Vector3[];
}

/** Numbers that describe the turns of three segments. */
export const TURNS = 6;

/** A mean of unit vectors shorter than this points nowhere in particular. */
const LEAST_MEAN = 0.1;

/**
 * Deviations of all directions from the mean posture, as turns (logarithm on the sphere).
 * @param swings at least two, of one player with one implement @param points 0 to 100
 * @returns 'no-direction' when a segment points every way, 'not-finite' with the swing's index
 * Source: mean direction and tangent plane: Mardia & Jupp, Directional Statistics, ch. 9-10 (from memory).
 * Checked: tests/measures/posture-deviations.test.ts
 */
export function postureDeviations(
  swings: readonly MeasuredSwing[],
  points: readonly number[],
): PostureDeviations | Unavailable {
  const n = swings.length;
  if (n < 2) return { reason: 'too-few', need: 2, have: n };
  const index = swings.findIndex((swing) => !swing.directions.every(Number.isFinite));
  if (index >= 0) return { reason: 'not-finite', index };
  const turnRad = new Float64Array(n * points.length * TURNS);
  const postures: MeanPosture[] = [];
  for (const [p, point] of points.entries()) {
    const posture = meanPosture(swings, point);
    if (posture === null) return { reason: 'no-direction' };
    postures.push(posture);
    for (let i = 0; i < n; i++)
      for (let k = 0; k < 3; k++) {
        const at = 9 * point + 3 * k;
        const out = (p * n + i) * TURNS + 2 * k;
        fillTurn(turnRad, out, posture, k, swings[i]!.directions.subarray(at, at + 3));
      }
  }
  return { n, postures, turnRad, lengthsM: swings[0]!.lengthsM };
}

/** Mean directions and axes at a point, or null when a segment has no mean direction. */
function meanPosture(swings: readonly MeasuredSwing[], point: number): MeanPosture | null {
  const directions = [vector3(), vector3(), vector3()];
  for (const swing of swings)
    for (let j = 0; j < 9; j++)
      directions[Math.floor(j / 3)]![j % 3]! += swing.directions[9 * point + j]! / swings.length;
  const axes: Vector3[] = [];
  for (const direction of directions) {
    if (!(norm(direction) > LEAST_MEAN)) return null;
    normalise(direction, direction);
    const first = normalise(vector3(), cross(vector3(), direction, leastAxis(direction)));
    axes.push(first, cross(vector3(), direction, first));
  }
  return { directions, axes };
}

/** The coordinate axis farthest from a direction. */
function leastAxis(direction: Vector3): Vector3 {
  const [x, y, z] = [0, 1, 2].map((i) => Math.abs(direction[i]!)) as [number, number, number];
  if (x <= y && x <= z) return vector3(1, 0, 0);
  return y <= z ? vector3(0, 1, 0) : vector3(0, 0, 1);
}

/** Writes the turn from the mean direction of segment k to `to` at `out[at]`. */
function fillTurn(
  out: Float64Array,
  at: number,
  { directions, axes }: MeanPosture,
  k: number,
  to: Vector3,
): void {
  const x = dot(axes[2 * k]!, to);
  const y = dot(axes[2 * k + 1]!, to);
  const sine = Math.hypot(x, y);
  const stretch = sine === 0 ? 1 : Math.atan2(sine, dot(directions[k]!, to)) / sine;
  out[at] = stretch * x;
  out[at + 1] = stretch * y;
}

/**
 * Gradient of reach |sum L_k d_k| by the six turns, at the mean posture turned by a little:
 *   L_k (u . e - (u . d_k) t),  u the direction from shoulder to sweet spot, e an axis and t the turn along it
 * @param out shape (6), metres per radian; all 0 when the arm has no reach @param turnRad shape (6), small
 */
export function reachGradient(
  out: Float64Array,
  { directions, axes }: MeanPosture,
  lengthsM: readonly number[],
  turnRad: Float64Array,
): void {
  // A hundred thousand times per set: local numbers only.
  let ux = 0;
  let uy = 0;
  let uz = 0;
  for (let k = 0; k < 3; k++) {
    const direction = directions[k]!;
    const first = axes[2 * k]!;
    const second = axes[2 * k + 1]!;
    const a = turnRad[2 * k]!;
    const b = turnRad[2 * k + 1]!;
    const x = direction[0]! + a * first[0]! + b * second[0]!;
    const y = direction[1]! + a * first[1]! + b * second[1]!;
    const z = direction[2]! + a * first[2]! + b * second[2]!;
    const scale = lengthsM[k]! / Math.sqrt(x * x + y * y + z * z);
    ux += scale * x;
    uy += scale * y;
    uz += scale * z;
  }
  const reach = Math.sqrt(ux * ux + uy * uy + uz * uz);
  out.fill(0);
  if (reach === 0) return;
  for (let j = 0; j < TURNS; j++) {
    const direction = directions[j >> 1]!;
    const axis = axes[j]!;
    const along = ux * direction[0]! + uy * direction[1]! + uz * direction[2]!;
    const across = ux * axis[0]! + uy * axis[1]! + uz * axis[2]!;
    out[j] = (lengthsM[j >> 1]! * (across - along * turnRad[j]!)) / reach;
  }
}
