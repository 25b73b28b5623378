import { RAD_PER_DEG } from '../maths/angles.ts';
import { solveSymmetric } from '../maths/solve-symmetric.ts';
import { norm, type Vector3 } from '../maths/vector.ts';
import { GYRO_ERRORS, type GyroTilt } from './gyro-tilt.ts';

/**
 * What a set says about the scale and cross-axis errors of its three gyroscopes.
 *
 * Both sensors of a joint must find its force at one elevation above the horizontal, whatever their headings. What
 * they differ by is the difference of their tilts, and of those the part that every fast turn makes anew is the
 * gyroscopes' own. One swing says little; a set of them, all alike, brings it out. Normal equations of the 27
 * parts of the error matrices: upper arm, forearm, implement. Plain data.
 */
export interface GyroEvidence {
  /** Row-major (27, 27), lower triangle, and shape (27), weighted by the inverse variance of an instant. */
  readonly normal: Float64Array;
  readonly gradient: Float64Array;
  instants: number;
}

const UNKNOWNS = 3 * GYRO_ERRORS;
/** Where the force points up or down, or hardly is, it has no elevation, m/s^2. */
const LEAST_HORIZONTAL_MS2 = 5;
/** Elevations differ by this much for other reasons: m/s^2 of force, and rad. */
const FORCE_SD_MS2 = 0.5;
const ELEVATION_SD_RAD = 0.03;
/** A sensor that slipped or was let go of: no error of a gyroscope. */
const MOST_DIFFERENCE_RAD = 15 * RAD_PER_DEG;
/** Neighbouring instants at 50 Hz say much the same: this many count as one. */
const CORRELATED_INSTANTS = 3;
/** Levers, clocks and accelerometer biases are the same in every swing: no set says more than this many instants. */
const MOST_INSTANTS = 200;
/** Error of ordinary parts, each element of the matrix, SD. */
const GYRO_ERROR_SD = 0.01;

/** Nothing seen yet. */
export function createGyroEvidence(): GyroEvidence {
  return {
    normal: new Float64Array(UNKNOWNS * UNKNOWNS),
    gradient: new Float64Array(UNKNOWNS),
    instants: 0,
  };
}

const row = new Float64Array(2 * GYRO_ERRORS);

/**
 * Adds one joint at one instant without shock, while the arm is fast; 50 a second are enough. Allocation-free.
 * @param joint 0 elbow, 1 wrist
 * @param above, below its specific force as the sensors above and below find it, their earth frames, m/s^2, shape (3)
 * @param tilts how far each vertical has tilted for its gyroscope's errors, at this instant
 * Source: own; joint force of Seel, Schauer & Raisch 2012, doi 10.1109/CCA.2012.6402423, eq. 4.
 * Checked: tests/arm/gyro-evidence.test.ts
 */
export function addGyroEvidence(
  evidence: GyroEvidence,
  joint: 0 | 1,
  above: Vector3,
  below: Vector3,
  tilts: readonly GyroTilt[],
): void {
  const aboveH = Math.sqrt(above[0]! ** 2 + above[1]! ** 2);
  const belowH = Math.sqrt(below[0]! ** 2 + below[1]! ** 2);
  if (Math.min(aboveH, belowH) < LEAST_HORIZONTAL_MS2) return;
  const difference = Math.atan2(below[2]!, belowH) - Math.atan2(above[2]!, aboveH);
  if (!(Math.abs(difference) <= MOST_DIFFERENCE_RAD)) return;
  tiltTowards(row, 0, above, aboveH, tilts[joint]!, 1);
  tiltTowards(row, GYRO_ERRORS, below, belowH, tilts[joint + 1]!, -1);
  const sd = ELEVATION_SD_RAD + FORCE_SD_MS2 / norm(above);
  addRow(evidence, GYRO_ERRORS * joint, difference, 1 / (sd * sd));
}

/** How a force sinks by a turn about the horizontal axis across it, z x F / |z x F|, for each part of the matrix. */
function tiltTowards(
  out: Float64Array,
  at: number,
  force: Vector3,
  horizontal: number,
  tilt: GyroTilt,
  sign: 1 | -1,
): void {
  const x = (-sign * force[1]!) / horizontal;
  const y = (sign * force[0]!) / horizontal;
  for (let i = 0; i < GYRO_ERRORS; i++) out[at + i] = x * tilt[i]! + y * tilt[GYRO_ERRORS + i]!;
}

/** The unknowns of the two sensors of a joint lie side by side. */
function addRow(evidence: GyroEvidence, first: number, value: number, weight: number): void {
  const { normal, gradient } = evidence;
  for (let i = 0; i < row.length; i++) {
    const weighted = weight * row[i]!;
    const at = UNKNOWNS * (first + i) + first;
    gradient[first + i] = gradient[first + i]! + weighted * value;
    for (let j = 0; j <= i; j++) normal[at + j] = normal[at + j]! + weighted * row[j]!;
  }
  evidence.instants++;
}

/**
 * The likeliest error matrices of the three gyroscopes, drawn towards none by what such parts are like.
 * @returns rows of M of upper arm, forearm, implement, one after another, shape (27); zeros without evidence
 */
export function likeliestGyroErrors({ normal, gradient, instants }: GyroEvidence): Float64Array {
  const errors = new Float64Array(UNKNOWNS);
  if (instants === 0) return errors;
  const share = Math.min(MOST_INSTANTS / instants, 1 / CORRELATED_INSTANTS);
  const a = new Float64Array(UNKNOWNS * UNKNOWNS);
  for (let i = 0; i < UNKNOWNS; i++) {
    for (let j = 0; j <= i; j++) {
      const value = share * normal[UNKNOWNS * i + j]!;
      a[UNKNOWNS * i + j] = value;
      a[UNKNOWNS * j + i] = value;
    }
    a[(UNKNOWNS + 1) * i]! += 1 / GYRO_ERROR_SD ** 2;
    errors[i] = share * gradient[i]!;
  }
  solveSymmetric(errors, a, errors);
  return errors;
}
