import { cross, dot, norm, vector3 } from '../maths/vector.ts';
import {
  CONFIDENCE,
  type Estimate,
  isUnavailable,
  type Unavailable,
} from '../statistics/estimate.ts';
import { logJackknifeInterval } from '../statistics/log-jackknife-interval.ts';
import { checkedMean } from '../statistics/moments.ts';
import { rowsByGroup } from '../statistics/resampling.ts';
import { SWING_POINTS } from '../swings/swing.ts';
import type { MeasuredSwing } from './measured-swing.ts';
import { columnOf, type ReachTable } from './reach-table.ts';
import { commonShare, courseSegment, type SwingTiming } from './swing-timing.ts';
import { MEASURES } from './thresholds.ts';

const LAST = SWING_POINTS - 1;

/** What swings that keep their angular deviations of mid-swing would show. */
export interface GeometryNull {
  /** Spread of reach they would have, metres, shape (101); NaN before mid-swing. */
  readonly spreadM: Float64Array;
  /** Spread at contact, observed over predicted. */
  readonly ratio: number;
  readonly interval: Estimate | Unavailable;
  /** The same at the level that the verdict asks for. */
  readonly intervalForVerdict: Estimate | Unavailable;
}

/**
 * Geometry null: near a straight arm reach hardly depends on the angles, so its spread shrinks without any
 * control. The deviation of each segment's direction at mid-swing, timing taken out, is carried along the
 * common course to contact, its angles kept; the spread of reach that follows is compared with the observed
 * one. To first order it is sqrt(J C J'), C the covariance of the directions at mid-swing, J the gradient of
 * reach at the later instant; the reach of the carried directions holds near the straight arm too, where J
 * vanishes. Carrying is parallel transport: an angle in the plane of the movement stays in it.
 * The error of the directions is carried like a deviation and is in both spreads.
 * @param table the reach of `swings` over normalised time, n >= 3 for the interval
 * @param timing fitted to the same swings
 * @returns 'no-spread' when the directions do not differ at mid-swing
 * Source: design.md section 9; interval: Miller 1968, see logJackknifeInterval.
 * Checked: tests/measures/geometry-null.test.ts, closed form of a planar arm
 */
export function geometryNull(
  swings: readonly MeasuredSwing[],
  table: ReachTable,
  timing: SwingTiming,
): GeometryNull | Unavailable {
  const { n, mid } = table;
  const carried = carriedReach(swings, timing, mid);
  const everyone = rowsByGroup([n])[0]!;
  const spreadM = new Float64Array(SWING_POINTS).fill(Number.NaN);
  for (let p = mid; p <= LAST; p++) spreadM[p] = Math.sqrt(varianceOf(carried[p - mid]!, everyone));
  const observed = columnOf(table, LAST);
  const predicted = carried[LAST - mid]!;
  const ratioOf = (rows: Int32Array): number | Unavailable => {
    const variance = varianceOf(predicted, rows);
    if (!(variance > 0)) return { reason: 'no-spread' };
    return Math.sqrt(varianceOf(observed, rows) / variance);
  };
  const ratio = ratioOf(everyone);
  if (isUnavailable(ratio)) return ratio;
  const intervalAt = (level: number) => logJackknifeInterval([n], ratioOf, level);
  return {
    spreadM,
    ratio,
    interval: intervalAt(CONFIDENCE),
    intervalForVerdict: intervalAt(MEASURES.funnel.limits.geometryLevel),
  };
}

/** Reach with the deviations of mid-swing kept, less its mean, one column of shape (n) for each later instant. */
function carriedReach(
  swings: readonly MeasuredSwing[],
  timing: SwingTiming,
  mid: number,
): Float64Array[] {
  const n = swings.length;
  const paths = [0, 1, 2].map((segment) => carryingFrames(timing, segment, mid));
  const deviations = swings.map((swing, i) =>
    [0, 1, 2].map((k) => deviationAtMid(swing, timing, i, k, mid, paths[k]![0]!)),
  );
  return paths[0]!.map((_, later) => {
    const reach = new Float64Array(n);
    for (let i = 0; i < n; i++) {
      let x = 0;
      let y = 0;
      let z = 0;
      for (let k = 0; k < 3; k++) {
        const { along, first, second } = paths[k]![later]!;
        const [a, b] = deviations[i]![k]!;
        const angle = Math.sqrt(a * a + b * b);
        const length = swings[i]!.lengthsM[k]!;
        const straight = length * Math.cos(angle);
        const aside = angle > 0 ? (length * Math.sin(angle)) / angle : 0;
        x += straight * along[0]! + aside * (a * first[0]! + b * second[0]!);
        y += straight * along[1]! + aside * (a * first[1]! + b * second[1]!);
        z += straight * along[2]! + aside * (a * first[2]! + b * second[2]!);
      }
      reach[i] = Math.sqrt(x * x + y * y + z * z);
    }
    const mean = checkedMean(reach);
    return reach.map((r) => r - mean);
  });
}

/** Direction of a segment on the common course, and two axes across it that are carried along. */
interface Frame {
  readonly along: Float64Array;
  readonly first: Float64Array;
  readonly second: Float64Array;
}

function carryingFrames(timing: SwingTiming, segment: number, mid: number): Frame[] {
  const frames: Frame[] = [];
  for (let p = mid; p <= LAST; p++) {
    const along = unit(courseSegment(vector3(), timing.course, p / LAST, segment));
    const before = frames.at(-1);
    const first = before ? carry(before.first, before.along, along) : anyAcross(along);
    frames.push({ along, first, second: cross(vector3(), along, first) });
  }
  return frames;
}

/** Rotation by which a segment is off the common course at mid-swing, along the two axes of the frame, rad. */
function deviationAtMid(
  swing: MeasuredSwing,
  timing: SwingTiming,
  i: number,
  segment: number,
  mid: number,
  frame: Frame,
): [number, number] {
  const due = unit(
    courseSegment(vector3(), timing.course, commonShare(timing, i, mid / LAST), segment),
  );
  const start = 9 * mid + 3 * segment;
  const is = swing.directions.subarray(start, start + 3);
  const ahead = dot(is, due);
  const across = is.map((x, axis) => x - ahead * due[axis]!);
  const off = norm(across);
  const scale = off > 0 ? Math.atan2(off, ahead) / off : 0;
  const carried = carry(across, due, frame.along);
  return [scale * dot(carried, frame.first), scale * dot(carried, frame.second)];
}

/** Turns a vector across `from` by the least rotation that takes `from` to `to`; unit vectors, not opposite. */
function carry(across: Float64Array, from: Float64Array, to: Float64Array): Float64Array {
  const part = dot(across, to) / (1 + dot(from, to));
  return across.map((x, axis) => x - part * (from[axis]! + to[axis]!));
}

function anyAcross(along: Float64Array): Float64Array {
  // The coordinate axis farthest from it.
  const sizes = along.map(Math.abs);
  const axis = vector3();
  axis[sizes.indexOf(Math.min(...sizes))] = 1;
  return unit(cross(vector3(), along, axis));
}

function unit(v: Float64Array): Float64Array {
  const length = norm(v);
  return v.map((x) => x / length);
}

/** Sample variance of some rows of a centred column. */
function varianceOf(column: Float64Array, rows: Int32Array): number {
  let sum = 0;
  let squares = 0;
  for (let i = 0; i < rows.length; i++) {
    const x = column[rows[i]!]!;
    sum += x;
    squares += x * x;
  }
  return Math.max(0, squares - (sum * sum) / rows.length) / (rows.length - 1);
}
