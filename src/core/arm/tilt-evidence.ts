import { conjugate, quaternion, rotate } from '../maths/quaternion.ts';
import { addScaled, cross, dot, norm, turnAboutZ, type Vector3, vector3 } from '../maths/vector.ts';
import type { TrackReading } from '../orientation/sensor-track.ts';
import type { JointLevers } from './chain-levers.ts';
import { jointSpecificForce, leverAcceleration } from './joint-acceleration.ts';
import type { Mounting } from './mounting.ts';

/**
 * How far each sensor has tilted against its segment, from the whole joint force (size, direction and the
 * vertical part that heading agreement leaves out). A sensor that turned on its segment still knows its own
 * orientation, but looks for the joint in the wrong direction, so that both sides of the joint disagree while
 * the arm is fast. A turn about the segment itself moves no joint: it neither shows here nor harms the reach.
 * Normal equations of the eight unknowns: tilt about the segment's y and z axes of upper arm, forearm and
 * implement, then the error of the heading at elbow and wrist, all rad. Plain data.
 */
export interface TiltEvidence {
  /** Row-major (8, 8) and shape (8), weighted by the inverse variance. */
  readonly normal: Float64Array;
  readonly gradient: Float64Array;
  /** Weighted sums of squares at elbow and wrist, and how many independent instants each stands for. */
  readonly squares: [number, number];
  readonly instants: [number, number];
}

/** Unknowns of {@link TiltEvidence}: the tilts come first. */
export const TILTS = 6;
export const TILT_UNKNOWNS = 8;

/** Slow turning says nothing about levers, rad/s. */
const LEAST_RATE_RAD_S = 4;
/** Disagreement that noise, bias, scale and clocks explain: m/s^2, and share of the force. */
const FORCE_SD_MS2 = 0.5;
const FORCE_SD_SHARE = 0.03;
/** Neighbouring instants at 50 Hz say much the same: this many count as one. */
const CORRELATED_SAMPLES = 3;

/** Nothing seen yet. */
export function createTiltEvidence(): TiltEvidence {
  return {
    normal: new Float64Array(TILT_UNKNOWNS ** 2),
    gradient: new Float64Array(TILT_UNKNOWNS),
    squares: [0, 0],
    instants: [0, 0],
  };
}

const SIDEWAYS = vector3(0, 1, 0);
const UP = vector3(0, 0, 1);
const NOTHING = vector3();
const above = vector3();
const below = vector3();
const difference = vector3();
// d difference / d unknown: two tilts above, two below, heading
const columns = [vector3(), vector3(), vector3(), vector3(), vector3()] as const;

/**
 * Adds one joint at one instant without shock, of 50 a second. Linear in the tilts: beyond some 45 degrees only their
 * direction is right.
 * @param joint 0 elbow, 1 wrist @param readings of all three sensors
 * @param levers of that joint
 * @param mounting from both poses @param deltaRad turn of the lower sensor's earth frame onto the upper one's
 */
export function addTiltEvidence(
  evidence: TiltEvidence,
  joint: 0 | 1,
  readings: readonly TrackReading[],
  levers: JointLevers,
  mounting: Mounting,
  deltaRad: number,
): void {
  const upper = readings[joint]!;
  const lower = readings[joint + 1]!;
  if (norm(upper.gyr) + norm(lower.gyr) < LEAST_RATE_RAD_S) return;
  const { aboveM: upperM, belowM: lowerM } = levers;
  jointSpecificForce(above, upper, upperM);
  turnAboutZ(jointSpecificForce(below, lower, lowerM), deltaRad);
  addScaled(difference, above, -1, below);
  tiltColumn(columns[0], upper, upperM, mounting, joint, SIDEWAYS);
  tiltColumn(columns[1], upper, upperM, mounting, joint, UP);
  turnAboutZ(tiltColumn(columns[2], lower, lowerM, mounting, joint + 1, SIDEWAYS), deltaRad);
  turnAboutZ(tiltColumn(columns[3], lower, lowerM, mounting, joint + 1, UP), deltaRad);
  for (const k of [2, 3] as const) addScaled(columns[k], NOTHING, -1, columns[k]);
  columns[4].set([below[1]!, -below[0]!, 0]);
  const sd = FORCE_SD_MS2 + FORCE_SD_SHARE * (norm(above) + norm(below));
  addEquations(evidence, joint, 1 / (sd * sd * CORRELATED_SAMPLES));
}

function addEquations(evidence: TiltEvidence, joint: 0 | 1, weight: number): void {
  const { normal, gradient } = evidence;
  const at = (column: number) => (column < 4 ? 2 * joint + column : TILTS + joint);
  for (let a = 0; a < 5; a++) {
    const column = columns[a]!;
    gradient[at(a)] = gradient[at(a)]! - weight * dot(column, difference);
    for (let b = 0; b < 5; b++) {
      const n = TILT_UNKNOWNS * at(a) + at(b);
      normal[n] = normal[n]! + weight * dot(column, columns[b]!);
    }
  }
  evidence.squares[joint] += weight * dot(difference, difference);
  evidence.instants[joint] += 1 / CORRELATED_SAMPLES;
}

const qSensorFromSegment = quaternion();
const axisInSensor = vector3();
const moved = vector3();

/** Change of the joint's force, earth frame, per radian by which the sensor turned about a segment axis. */
function tiltColumn(
  out: Vector3,
  reading: TrackReading,
  leverM: Vector3,
  mounting: Mounting,
  segment: number,
  axis: Vector3,
): Vector3 {
  conjugate(qSensorFromSegment, mounting.qSegmentFromSensor![segment]!);
  cross(moved, rotate(axisInSensor, qSensorFromSegment, axis), leverM);
  leverAcceleration(out, reading, moved);
  return rotate(out, reading.qEarthFromSensor, out);
}
