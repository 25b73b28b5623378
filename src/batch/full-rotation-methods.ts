import { jointForceInSensor, jointSpecificForce } from '../core/arm/joint-acceleration.ts';
import { RAD_PER_DEG } from '../core/maths/angles.ts';
import {
  conjugate,
  fromRotationVector,
  multiply,
  normaliseQuaternion,
  type Quaternion,
  quaternion,
  rotate,
} from '../core/maths/quaternion.ts';
import { solveSymmetric } from '../core/maths/solve-symmetric.ts';
import { norm, type Vector3, vector3 } from '../core/maths/vector.ts';
import { principalAxes } from '../core/statistics/principal-axes.ts';
import type { JointInstant } from './joint-trial.ts';
import type { RelativeMethod } from './relative-method.ts';

/** Error of one specific force at the joint: m/s^2, and share of its size. */
const FORCE_SD_MS2 = 0.5;
const FORCE_SD_SHARE = 0.03;
/** Neighbouring instants at 200 Hz say much the same: this many count as one. */
const CORRELATED_INSTANTS = 12;

const forceAbove = vector3();
const forceBelow = vector3();

/** One over the variance of one axis of a force pair, (m/s^2)^-2. */
function weightOf(above: Vector3, below: Vector3): number {
  const sd = FORCE_SD_MS2 + FORCE_SD_SHARE * (norm(above) + norm(below));
  return 1 / (sd * sd * CORRELATED_INSTANTS);
}

/** Instants count less after this time, seconds. */
const FORGETTING_S = 3;
const SOLVE_EVERY_S = 1;

/**
 * The whole rotation between the two earth frames, inclination errors included: the one that best turns the forces at
 * the joint as felt from below onto those felt from above (Wahba's problem), recent ones counting more.
 * Source: Wahba 1965, doi 10.1137/1007077, solved by unit quaternions: Horn 1987, doi 10.1364/JOSAA.4.000629.
 */
export function wahbaMethod(): RelativeMethod {
  const sums = new Float64Array(9); // below times above, weighted
  const qAboveFromBelowEarth = quaternion();
  let sinceS = 0;
  const relative = ({ above, below }: JointInstant) => {
    const q = conjugate(quaternion(), above.qEarthFromSensor);
    multiply(q, q, qAboveFromBelowEarth);
    return multiply(q, q, below.qEarthFromSensor);
  };
  return {
    headingSdRad: () => Number.NaN,
    reread: relative,
    step: (instant) => {
      if (!instant.isShocked) addForces(sums, instant);
      sinceS += instant.stepS;
      if (sinceS >= SOLVE_EVERY_S) {
        sinceS = 0;
        qAboveFromBelowEarth.set(bestRotation(sums));
      }
      return relative(instant);
    },
  };
}

function addForces(sums: Float64Array, instant: JointInstant): void {
  jointSpecificForce(forceAbove, instant.above, instant.leverAboveM);
  jointSpecificForce(forceBelow, instant.below, instant.leverBelowM);
  const weight = weightOf(forceAbove, forceBelow);
  const keep = 1 - instant.stepS / FORGETTING_S;
  for (let i = 0; i < 3; i++) {
    for (let j = 0; j < 3; j++) {
      sums[3 * i + j] = keep * sums[3 * i + j]! + weight * forceBelow[i]! * forceAbove[j]!;
    }
  }
}

/** @param s sums of (vector) (vector to be turned onto), row-major (3, 3) */
function bestRotation(s: Float64Array): Quaternion {
  const [xx, xy, xz, yx, yy, yz, zx, zy, zz] = [...s] as [
    number,
    number,
    number,
    number,
    number,
    number,
    number,
    number,
    number,
  ];
  // biome-ignore format: a matrix
  const n = [
    xx + yy + zz, yz - zy, zx - xz, xy - yx,
    yz - zy, xx - yy - zz, xy + yx, zx + xz,
    zx - xz, xy + yx, yy - xx - zz, yz + zy,
    xy - yx, zx + xz, yz + zy, zz - xx - yy,
  ];
  return principalAxes(n).axes.slice(0, 4);
}

/** Before this time the Kalman filter waits for a first rotation to begin from, seconds. */
const BEGINS_AFTER_S = 5;
const FIRST_SD_RAD = 15 * RAD_PER_DEG;
/** What the gyroscopes do not know: random walk, and error per radian turned. */
const WALK_RAD_SQRT_S = 0.6 * RAD_PER_DEG;
const DRIFT_PER_TURN = 0.012;

/**
 * The relative orientation itself as the state of a Kalman filter: both gyroscopes carry it on, the force at the joint
 * as felt from both sides corrects it at every instant. No earth frame, no inclination.
 * Source: Weygers & Kok 2020, doi 10.1109/JSEN.2020.2982459 (multiplicative extended Kalman filter; biases are those
 * of the production filter, noise ours).
 */
export function relativeKalmanMethod(): RelativeMethod {
  const first = wahbaMethod();
  const q = quaternion();
  const p = Float64Array.of(1, 0, 0, 0, 1, 0, 0, 0, 1).map((x) => x * FIRST_SD_RAD ** 2);
  let elapsedS = 0;
  return {
    headingSdRad: () => Number.NaN,
    reread: (_, then) => then,
    step: (instant) => {
      elapsedS += instant.stepS;
      if (elapsedS < BEGINS_AFTER_S) {
        q.set(first.step(instant));
      } else {
        turnOn(q, p, instant);
        if (!instant.isShocked) correct(q, p, instant);
      }
      return q;
    },
  };
}

const turnAbove = quaternion();
const turnBelow = quaternion();
const column = vector3();

/** Carries rotation and covariance (of a small turn in the frame above) over one step. */
function turnOn(q: Quaternion, p: Float64Array, { above, below, stepS }: JointInstant): void {
  const [ax, ay, az] = above.gyr;
  const [bx, by, bz] = below.gyr;
  fromRotationVector(turnAbove, -ax! * stepS, -ay! * stepS, -az! * stepS);
  fromRotationVector(turnBelow, bx! * stepS, by! * stepS, bz! * stepS);
  normaliseQuaternion(multiply(q, multiply(q, turnAbove, q), turnBelow));
  rotateColumns(p);
  rotateColumns(p);
  const turned = (norm(above.gyr) + norm(below.gyr)) * stepS;
  for (let i = 0; i < 3; i++) {
    // errors of scale add up over a turn: variance grows with its square, so per step with the rate
    p[4 * i] = p[4 * i]! + WALK_RAD_SQRT_S ** 2 * stepS + DRIFT_PER_TURN ** 2 * turned;
  }
}

/** (R P)': twice gives R P R'. */
function rotateColumns(p: Float64Array): void {
  const old = Float64Array.from(p);
  for (let j = 0; j < 3; j++) {
    for (let i = 0; i < 3; i++) column[i] = old[3 * i + j]!;
    rotate(column, turnAbove, column);
    for (let i = 0; i < 3; i++) p[3 * j + i] = column[i]!;
  }
}

/** e = f_above - q f_below = -[q f_below]x turn + noise, one Kalman update in information form. */
function correct(q: Quaternion, p: Float64Array, instant: JointInstant): void {
  jointForceInSensor(forceAbove, instant.above, instant.leverAboveM);
  jointForceInSensor(forceBelow, instant.below, instant.leverBelowM);
  const weight = weightOf(forceAbove, forceBelow);
  const [x, y, z] = rotate(forceBelow, q, forceBelow) as unknown as [number, number, number];
  const e = [forceAbove[0]! - x, forceAbove[1]! - y, forceAbove[2]! - z] as const;
  // H'H = |f|^2 - f f', H'e = f x e
  const information = inverse(p);
  const square = x * x + y * y + z * z;
  const f = [x, y, z];
  for (let i = 0; i < 3; i++) {
    for (let j = 0; j < 3; j++) {
      const hh = (i === j ? square : 0) - f[i]! * f[j]!;
      information[3 * i + j] = information[3 * i + j]! + weight * hh;
    }
  }
  const gradient = Float64Array.of(
    weight * (y * e[2] - z * e[1]),
    weight * (z * e[0] - x * e[2]),
    weight * (x * e[1] - y * e[0]),
  );
  p.set(inverse(information));
  if (!solveSymmetric(gradient, information, gradient)) return;
  fromRotationVector(turnAbove, gradient[0]!, gradient[1]!, gradient[2]!);
  normaliseQuaternion(multiply(q, turnAbove, q));
}

function inverse(matrix: Float64Array): Float64Array {
  const out = new Float64Array(9);
  for (let j = 0; j < 3; j++) {
    const unit = vector3();
    unit[j] = 1;
    solveSymmetric(unit, matrix, unit);
    for (let i = 0; i < 3; i++) out[3 * i + j] = unit[i]!;
  }
  return out;
}
