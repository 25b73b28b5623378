import { correctAgreement, type HeadingAgreement } from '../core/arm/heading-agreement.ts';
import { RAD_PER_DEG } from '../core/maths/angles.ts';
import { type Quaternion, rotate, rotateInverse } from '../core/maths/quaternion.ts';
import { dot, type Vector3, vector3 } from '../core/maths/vector.ts';
import { principalAxes } from '../core/statistics/principal-axes.ts';
import type { JointInstant } from './joint-trial.ts';
import { rms } from './relative-error.ts';
import { accelerationMethod, type RelativeMethod, relativeAtHeading } from './relative-method.ts';

/** A joint of two axes, one fixed in each sensor's frame, that keep one angle to each other. */
export interface TwoDofJoint {
  /** Unit, sensor frames, shape (3). */
  readonly axisAbove: Vector3;
  readonly axisBelow: Vector3;
  readonly angleRad: number;
  /** How much that angle really varies, RMS, rad: 0 for a perfect joint. */
  readonly spreadRad: number;
}

/** Enough for the axes to settle: each round solves for one given the other. */
const AXIS_ROUNDS = 100;

/**
 * The 2-DoF joint that fits a movement best: axes whose scalar product varies least. An oracle: it sees the truth.
 * @param turns true qAboveFromBelow over the movement
 */
export function fitTwoDofJoint(turns: readonly Quaternion[]): TwoDofJoint {
  const starts = [0, 1, 2].map((axis) => fitFrom(turns, axis));
  return starts.reduce((best, joint) => (joint.spreadRad < best.spreadRad ? joint : best));
}

function fitFrom(turns: readonly Quaternion[], axis: number): TwoDofJoint {
  const seen = vector3();
  let axisBelow = vector3();
  axisBelow[axis] = 1;
  let axisAbove = axisBelow;
  for (let round = 0; round < AXIS_ROUNDS; round++) {
    axisAbove = steadiest(turns, (q) => rotate(seen, q, axisBelow));
    axisBelow = steadiest(turns, (q) => rotateInverse(seen, q, axisAbove));
  }
  const angles = turns.map((q) => {
    const cosine = dot(axisAbove, rotate(seen, q, axisBelow));
    return Math.acos(Math.max(-1, Math.min(1, cosine)));
  });
  const angleRad = angles.reduce((sum, angle) => sum + angle, 0) / angles.length;
  return { axisAbove, axisBelow, angleRad, spreadRad: rms(angles.map((a) => a - angleRad)) };
}

/** Direction along which a vector varies least. */
function steadiest(turns: readonly Quaternion[], vectorAt: (q: Quaternion) => Vector3): Vector3 {
  const mean = vector3();
  const square = new Float64Array(9);
  for (const q of turns) {
    const v = vectorAt(q);
    for (let i = 0; i < 3; i++) {
      mean[i] = mean[i]! + v[i]! / turns.length;
      for (let j = 0; j < 3; j++) {
        square[3 * i + j] = square[3 * i + j]! + (v[i]! * v[j]!) / turns.length;
      }
    }
  }
  const covariance = square.map((value, k) => value - mean[Math.floor(k / 3)]! * mean[k % 3]!);
  return principalAxes(covariance).axes.slice(6, 9);
}

/**
 * How the constraint changes with the heading, e = a cos(delta) + b sin(delta) + c, summed in squares over instants.
 */
interface ConstraintSums {
  n: number;
  aa: number;
  ab: number;
  bb: number;
  ac: number;
  bc: number;
}

const above = vector3();
const below = vector3();

/** Adds one instant, those before weighing `keep` times what they did. */
function addConstraint(
  sums: ConstraintSums,
  joint: TwoDofJoint,
  instant: JointInstant,
  keep: number,
): void {
  rotate(above, instant.above.qEarthFromSensor, joint.axisAbove);
  rotate(below, instant.below.qEarthFromSensor, joint.axisBelow);
  const a = above[0]! * below[0]! + above[1]! * below[1]!;
  const b = above[1]! * below[0]! - above[0]! * below[1]!;
  const c = above[2]! * below[2]! - Math.cos(joint.angleRad);
  sums.n = keep * sums.n + 1;
  sums.aa = keep * sums.aa + a * a;
  sums.ab = keep * sums.ab + a * b;
  sums.bb = keep * sums.bb + b * b;
  sums.ac = keep * sums.ac + a * c;
  sums.bc = keep * sums.bc + b * c;
}

const emptySums = (): ConstraintSums => ({ n: 0, aa: 0, ab: 0, bb: 0, ac: 0, bc: 0 });

/** Instants count less after this time, seconds. */
const FORGETTING_S = 5;
const SEARCH_EVERY_S = 1;

/**
 * Heading by the joint's constraint alone: axes of a 2-DoF joint keep their angle, and only one heading (or two, until
 * the joint has moved) lets them.
 * Source: Laidig, Lehmann, Begin & Seel 2019, doi 10.1109/EMBC.2019.8857535 (orientation-based constraint; the window
 * is ours, axes are given instead of estimated).
 */
export function constraintMethod(joint: TwoDofJoint): RelativeMethod {
  const sums = emptySums();
  let deltaRad = 0;
  let sinceS = 0;
  return {
    headingSdRad: () => Number.NaN,
    reread: (instant) => relativeAtHeading(instant, deltaRad),
    step: (instant) => {
      addConstraint(sums, joint, instant, 1 - instant.stepS / FORGETTING_S);
      sinceS += instant.stepS;
      if (sinceS >= SEARCH_EVERY_S) {
        sinceS = 0;
        deltaRad = leastViolation(sums);
      }
      return relativeAtHeading(instant, deltaRad);
    },
  };
}

const SEARCH_STEPS = 1440;

/** The heading in steps of a quarter degree at which the constraint is violated least. */
function leastViolation({ aa, ab, bb, ac, bc }: ConstraintSums): number {
  let least = Number.POSITIVE_INFINITY;
  let at = 0;
  for (let step = 0; step < SEARCH_STEPS; step++) {
    const delta = (2 * Math.PI * step) / SEARCH_STEPS;
    const x = Math.cos(delta);
    const y = Math.sin(delta);
    const cost = x * (x * aa + 2 * y * ab + 2 * ac) + y * (y * bb + 2 * bc);
    if (cost < least) {
      least = cost;
      at = delta;
    }
  }
  return at;
}

/** Inclination errors turn the axes by about this much, alike over a window, SD. */
const AXIS_SD_RAD = 1.5 * RAD_PER_DEG;
/** Only near the truth is the constraint as good as linear. */
const NEAR_RAD = 15 * RAD_PER_DEG;

/** The production method, told each second what the joint's constraint says of the heading it believes. */
export function accelerationAndConstraintMethod(joint: TwoDofJoint): RelativeMethod {
  const sums = emptySums();
  const method = accelerationMethod((state) => {
    weighConstraint(state, sums, joint);
    Object.assign(sums, emptySums());
  });
  return {
    headingSdRad: method.headingSdRad,
    reread: method.reread,
    step: (instant) => {
      addConstraint(sums, joint, instant, 1);
      return method.step(instant);
    },
  };
}

/** One Gauss-Newton step from the believed heading; its error is that of the angle between the axes. */
function weighConstraint(
  state: HeadingAgreement,
  { n, aa, ab, bb, ac, bc }: ConstraintSums,
  { angleRad, spreadRad }: TwoDofJoint,
): void {
  if (state.pDelta > NEAR_RAD ** 2) return;
  const x = Math.cos(state.deltaRad);
  const y = Math.sin(state.deltaRad);
  const slopeSquare = y * y * aa - 2 * x * y * ab + x * x * bb;
  const slopeError = x * y * (bb - aa) + (x * x - y * y) * ab - y * ac + x * bc;
  const sd = Math.hypot(AXIS_SD_RAD, spreadRad) * Math.sin(angleRad) * Math.sqrt(n / slopeSquare);
  if (sd < NEAR_RAD) correctAgreement(state, state.deltaRad - slopeError / slopeSquare, sd);
}
