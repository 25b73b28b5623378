import { SWING_POINTS } from '../swings/swing.ts';
import type { MeasuredSwing } from './measured-swing.ts';

/** x, y, z of the three segment vectors, then reach. */
const COLUMNS = 10;
const REACH = 9;
const LAST = SWING_POINTS - 1;

/** Timing of each swing of a set against the set's common course. */
export interface SwingTiming {
  /**
   * Swing i is at share tau where the common course is at `tau + shift[i] + lag[i] (1 - tau)`; shape (n),
   * shares of the swing, zero on average. The lag leaves contact alone: a tempo, or a start found too early.
   */
  readonly shift: Float64Array;
  readonly lag: Float64Array;
  readonly course: Course;
}

/** What all swings of a set have in common once their timing is taken out: shape (101, 10), metres, row-major. */
export type Course = Float64Array;

// Beyond these a swing is another movement, not the same one at another time.
const MOST_SHIFT = 0.25;
const MOST_LAG = 0.5;
/** Each round: two Gauss-Newton steps per swing, then the course anew from the swings brought into time. */
const ROUNDS = 2;
const STEPS = 2;
/** Two numbers per swing are known well enough from every second of its points. */
const STRIDE = 2;

/**
 * Brings swings into time with one another: the shift and lag that bring segment vectors and reach of each
 * swing nearest to the common course, in least squares over the whole swing. Whatever a difference of timing
 * can explain is put down to timing.
 * @param swings at least two
 * Source: affine registration of curves by the Procrustes method, Ramsay & Li 1998,
 *   doi 10.1111/1467-9868.00129; Gauss-Newton.
 * Checked: tests/measures/swing-timing.test.ts, known shifts and lags recovered
 */
export function fitSwingTiming(swings: readonly MeasuredSwing[]): SwingTiming {
  const n = swings.length;
  const shift = new Float64Array(n);
  const lag = new Float64Array(n);
  const courses = swings.map(courseOf);
  let course = meanCourse(courses, shift, lag);
  for (let round = 0; round < ROUNDS; round++) {
    for (let i = 0; i < n; i++)
      for (let step = 0; step < STEPS; step++) improve(courses[i]!, course, shift, lag, i);
    centre(shift, MOST_SHIFT);
    centre(lag, MOST_LAG);
    course = meanCourse(courses, shift, lag);
  }
  return { shift, lag, course };
}

/** Where the common course is when swing i is at a share of its own time. */
export function commonShare(timing: SwingTiming, i: number, share: number): number {
  return share + timing.shift[i]! + timing.lag[i]! * (1 - share);
}

/** Reach of the common course, metres; in a straight line beyond its ends. */
export function courseReach(course: Course, share: number): number {
  return valueAt(course, share, REACH);
}

/** Segment vector of the common course. @param out shape (3), metres @param segment 0, 1, 2 */
export function courseSegment(
  out: Float64Array,
  course: Course,
  share: number,
  segment: number,
): Float64Array {
  for (let axis = 0; axis < 3; axis++) out[axis] = valueAt(course, share, 3 * segment + axis);
  return out;
}

function courseOf(swing: MeasuredSwing): Course {
  const course = new Float64Array(SWING_POINTS * COLUMNS);
  for (let p = 0; p < SWING_POINTS; p++) {
    for (let c = 0; c < REACH; c++)
      course[p * COLUMNS + c] = swing.lengthsM[Math.floor(c / 3)]! * swing.directions[p * 9 + c]!;
    course[p * COLUMNS + REACH] = swing.reachCurveM[p]!;
  }
  return course;
}

/** One Gauss-Newton step on the shift and lag of swing i. */
function improve(
  swing: Course,
  course: Course,
  shift: Float64Array,
  lag: Float64Array,
  i: number,
): void {
  let aa = 0;
  let ab = 0;
  let bb = 0;
  let ya = 0;
  let yb = 0;
  for (let p = 0; p < SWING_POINTS; p += STRIDE) {
    const left = 1 - p / LAST;
    const share = p / LAST + shift[i]! + lag[i]! * left;
    const below = cellBelow(share);
    const part = share * LAST - below;
    const start = below * COLUMNS;
    for (let c = 0; c < COLUMNS; c++) {
      const low = course[start + c]!;
      const rise = course[start + COLUMNS + c]! - low;
      const slope = rise * LAST;
      const residual = swing[p * COLUMNS + c]! - (low + part * rise);
      aa += slope * slope;
      ab += slope * slope * left;
      bb += slope * slope * left * left;
      ya += slope * residual;
      yb += slope * residual * left;
    }
  }
  const determinant = aa * bb - ab * ab;
  // An arm that does not move has no timing.
  if (!(determinant > 1e-9 * aa * bb)) return;
  shift[i] = clamp(shift[i]! + (bb * ya - ab * yb) / determinant, MOST_SHIFT);
  lag[i] = clamp(lag[i]! + (aa * yb - ab * ya) / determinant, MOST_LAG);
}

/** Mean of the swings, each read where the course is at a share. */
function meanCourse(courses: readonly Course[], shift: Float64Array, lag: Float64Array): Course {
  const mean = new Float64Array(SWING_POINTS * COLUMNS);
  for (let i = 0; i < courses.length; i++) {
    for (let p = 0; p < SWING_POINTS; p++) {
      const share = (p / LAST - shift[i]! - lag[i]!) / (1 - lag[i]!);
      const below = cellBelow(share);
      const part = share * LAST - below;
      const start = below * COLUMNS;
      for (let c = 0; c < COLUMNS; c++) {
        const low = courses[i]![start + c]!;
        mean[p * COLUMNS + c]! += low + part * (courses[i]![start + COLUMNS + c]! - low);
      }
    }
  }
  for (let k = 0; k < mean.length; k++) mean[k]! /= courses.length;
  return mean;
}

function valueAt(course: Course, share: number, column: number): number {
  const below = cellBelow(share);
  const low = course[below * COLUMNS + column]!;
  return low + (share * LAST - below) * (course[(below + 1) * COLUMNS + column]! - low);
}

/** Point at which the piece of straight line begins that holds at a share; the end pieces go on for ever. */
function cellBelow(share: number): number {
  return Math.max(0, Math.min(LAST - 1, Math.floor(share * LAST)));
}

function centre(values: Float64Array, most: number): void {
  const mean = values.reduce((sum, value) => sum + value, 0) / values.length;
  for (let i = 0; i < values.length; i++) values[i] = clamp(values[i]! - mean, most);
}

function clamp(value: number, most: number): number {
  return Math.max(-most, Math.min(most, value));
}
