import { RAD_PER_DEG } from '../maths/angles.ts';
import {
  fromRotationVector,
  multiply,
  type Quaternion,
  quaternion,
  renormalise,
  rotate,
} from '../maths/quaternion.ts';
import { norm, type Vector3, vector3 } from '../maths/vector.ts';
import { kalmanUpdate3 } from './kalman-update3.ts';
import {
  createLowPass,
  type LowPassCoefficients,
  type LowPassState,
  lowPassCoefficients,
  stepLowPass,
} from './low-pass.ts';

/** Tuning of the 6-axis filter; defaults of the paper. Angles rad, times s, accelerations m/s^2. */
export interface VqfParams {
  /** Time constant of the inclination correction, s. */
  readonly tauAccS: number;
  /** Initial bias uncertainty, rad/s. */
  readonly biasSigmaInitRadS: number;
  /** Time in which the bias uncertainty grows from 0 to 0.1 deg/s, s. */
  readonly biasForgettingS: number;
  /** Largest bias ever believed, rad/s. */
  readonly biasClipRadS: number;
  /** Bias uncertainty reached in motion and at rest, rad/s. */
  readonly biasSigmaMotionRadS: number;
  readonly biasSigmaRestRadS: number;
  /** How much the (unobservable) vertical bias is let forget in motion; dimensionless. */
  readonly biasVerticalForgetting: number;
  /** Rest: shortest duration, low-pass time constant and thresholds on the deviation from it. */
  readonly restMinS: number;
  readonly restTauS: number;
  readonly restGyroRadS: number;
  readonly restAccelMS2: number;
}

export const VQF_DEFAULTS: VqfParams = {
  tauAccS: 3,
  biasSigmaInitRadS: 0.5 * RAD_PER_DEG,
  biasForgettingS: 100,
  biasClipRadS: 2 * RAD_PER_DEG,
  biasSigmaMotionRadS: 0.1 * RAD_PER_DEG,
  biasSigmaRestRadS: 0.03 * RAD_PER_DEG,
  biasVerticalForgetting: 0.0001,
  restMinS: 1.5,
  restTauS: 0.5,
  restGyroRadS: 2 * RAD_PER_DEG,
  restAccelMS2: 0.5,
};

/** What follows from the parameters and the sampling interval; computed once. Bias variances in (0.01 deg/s)^2. */
export interface VqfCoefficients {
  readonly params: VqfParams;
  readonly intervalS: number;
  readonly rateHz: number;
  readonly accLowPass: LowPassCoefficients;
  readonly restLowPass: LowPassCoefficients;
  readonly biasP0: number;
  readonly biasV: number;
  readonly weightMotion: number;
  readonly weightVertical: number;
  readonly weightRest: number;
}

/** Everything the filter remembers; plain data, so that it can be saved and resumed. */
export interface VqfState {
  /** Sensor to nearly inertial frame, by gyroscope alone. */
  readonly qInertialFromSensor: Quaternion;
  /** Nearly inertial frame to earth (z up). */
  readonly qEarthFromInertial: Quaternion;
  /** The result: qEarthFromInertial x qInertialFromSensor. */
  readonly qEarthFromSensor: Quaternion;
  /** Gyroscope bias in the sensor frame, rad/s. */
  readonly biasRadS: Vector3;
  /** Its covariance, row-major (3,3), (0.01 deg/s)^2. */
  readonly biasP: Float64Array;
  readonly accInertial: LowPassState;
  readonly rotation: LowPassState;
  readonly biasInEarth: LowPassState;
  readonly restGyro: LowPassState;
  readonly restAccel: LowPassState;
  restS: number;
  atRest: boolean;
}

/** The internal unit of the bias covariance keeps its numbers near one. */
const RAD_PER_UNIT = 0.01 * RAD_PER_DEG;

/** @param intervalS nominal sampling interval, seconds */
export function vqfCoefficients(
  intervalS: number,
  params: VqfParams = VQF_DEFAULTS,
): VqfCoefficients {
  const biasV = ((0.1 * RAD_PER_DEG) / RAD_PER_UNIT) ** 2 * (intervalS / params.biasForgettingS);
  const weight = (sigmaRadS: number) => {
    const p = (sigmaRadS / RAD_PER_UNIT) ** 2;
    return (p * p) / biasV + p;
  };
  const weightMotion = weight(params.biasSigmaMotionRadS);
  return {
    params,
    intervalS,
    rateHz: 1 / intervalS,
    accLowPass: lowPassCoefficients(params.tauAccS, intervalS),
    restLowPass: lowPassCoefficients(params.restTauS, intervalS),
    biasP0: (params.biasSigmaInitRadS / RAD_PER_UNIT) ** 2,
    biasV,
    weightMotion,
    weightVertical: weightMotion / params.biasVerticalForgetting,
    weightRest: weight(params.biasSigmaRestRadS),
  };
}

/** Fresh state: sensor and earth frames aligned, bias zero. */
export function createVqf(c: VqfCoefficients): VqfState {
  return {
    qInertialFromSensor: quaternion(),
    qEarthFromInertial: quaternion(),
    qEarthFromSensor: quaternion(),
    biasRadS: vector3(),
    biasP: Float64Array.of(c.biasP0, 0, 0, 0, c.biasP0, 0, 0, 0, c.biasP0),
    accInertial: createLowPass(3),
    rotation: createLowPass(9),
    biasInEarth: createLowPass(2),
    restGyro: createLowPass(3),
    restAccel: createLowPass(3),
    restS: 0,
    atRest: false,
  };
}

/** Forgets the orientation after missing samples and keeps what is known of the bias. */
export function forgetOrientation(c: VqfCoefficients, state: VqfState): void {
  const { biasRadS, biasP } = state;
  Object.assign(state, createVqf(c), { biasRadS, biasP });
}

// Scratch memory of the step: never carries anything from one call to the next.
const qStep = quaternion();
const vStep = vector3();
const aEarth = vector3();
const matrix = new Float64Array(9);
const rb = new Float64Array(2);
const innovation = vector3();
const weights = vector3();
const IDENTITY = Float64Array.of(1, 0, 0, 0, 1, 0, 0, 0, 1);

/**
 * One sample of the 6-axis filter: strapdown integration by the exact exponential map, inclination
 * from the specific force low-passed in the nearly inertial frame, gyroscope bias from rest and motion.
 * @param gyr rad/s, sensor frame, shape (3) @param acc m/s^2 (specific force), sensor frame, shape (3)
 * @param dtS true time since the previous sample, seconds
 * @param useAccel false inside a contact shock: the gyroscope alone carries the orientation
 * Source: Laidig & Seel 2023, Information Fusion 91:187-204, doi 10.1016/j.inffus.2022.10.014 (VQF, 6D).
 * Checked: tests/orientation/vqf-filter.test.ts against the reference implementation's output.
 */
export function stepVqf(
  c: VqfCoefficients,
  state: VqfState,
  gyr: Vector3,
  acc: Vector3,
  dtS: number,
  useAccel: boolean,
): void {
  stepRestGyro(c, state, gyr);
  integrate(state, gyr, dtS);
  if (useAccel && (acc[0] !== 0 || acc[1] !== 0 || acc[2] !== 0)) {
    stepRestAccel(c, state, acc);
    correctInclination(c, state, acc);
    multiply(state.qEarthFromSensor, state.qEarthFromInertial, state.qInertialFromSensor);
    estimateBias(c, state);
  } else {
    multiply(state.qEarthFromSensor, state.qEarthFromInertial, state.qInertialFromSensor);
  }
}

function stepRestGyro(c: VqfCoefficients, state: VqfState, gyr: Vector3): void {
  const lp = stepLowPass(c.restLowPass, state.restGyro, gyr);
  const dx = gyr[0]! - lp[0]!;
  const dy = gyr[1]! - lp[1]!;
  const dz = gyr[2]! - lp[2]!;
  const { restGyroRadS, biasClipRadS } = c.params;
  const largest = Math.max(Math.abs(lp[0]!), Math.abs(lp[1]!), Math.abs(lp[2]!));
  if (dx * dx + dy * dy + dz * dz >= restGyroRadS * restGyroRadS || largest > biasClipRadS) {
    state.restS = 0;
    state.atRest = false;
  }
}

function stepRestAccel(c: VqfCoefficients, state: VqfState, acc: Vector3): void {
  const lp = stepLowPass(c.restLowPass, state.restAccel, acc);
  const dx = acc[0]! - lp[0]!;
  const dy = acc[1]! - lp[1]!;
  const dz = acc[2]! - lp[2]!;
  if (dx * dx + dy * dy + dz * dz >= c.params.restAccelMS2 ** 2) {
    state.restS = 0;
    state.atRest = false;
  } else {
    state.restS += c.intervalS;
    if (state.restS >= c.params.restMinS) state.atRest = true;
  }
}

function integrate(state: VqfState, gyr: Vector3, dtS: number): void {
  const b = state.biasRadS;
  fromRotationVector(
    qStep,
    (gyr[0]! - b[0]!) * dtS,
    (gyr[1]! - b[1]!) * dtS,
    (gyr[2]! - b[2]!) * dtS,
  );
  const q = state.qInertialFromSensor;
  renormalise(multiply(q, q, qStep));
}

function correctInclination(c: VqfCoefficients, state: VqfState, acc: Vector3): void {
  rotate(vStep, state.qInertialFromSensor, acc);
  const lp = stepLowPass(c.accLowPass, state.accInertial, vStep);
  rotate(aEarth, state.qEarthFromInertial, lp);
  const length = norm(aEarth);
  if (!(length > 0)) return;
  const scale = 1 / length;
  aEarth[0] = scale * aEarth[0]!;
  aEarth[1] = scale * aEarth[1]!;
  aEarth[2] = scale * aEarth[2]!;
  const qw = Math.sqrt((aEarth[2]! + 1) / 2);
  // Any horizontal half turn does, to a hundredth of a degree; nearer, rounding of 1 + z leaves no unit quaternion.
  const isUpsideDown = !(qw > 1e-4);
  const half = 0.5 / qw;
  qStep[0] = isUpsideDown ? 0 : qw;
  qStep[1] = isUpsideDown ? 1 : half * aEarth[1]!;
  qStep[2] = isUpsideDown ? 0 : -half * aEarth[0]!;
  qStep[3] = 0;
  renormalise(multiply(state.qEarthFromInertial, qStep, state.qEarthFromInertial));
}

function estimateBias(c: VqfCoefficients, state: VqfState): void {
  const { biasRadS: b, biasP: p } = state;
  rotationMatrix(matrix, state.qEarthFromSensor);
  rb[0] = matrix[0]! * b[0]! + matrix[1]! * b[1]! + matrix[2]! * b[2]!;
  rb[1] = matrix[3]! * b[0]! + matrix[4]! * b[1]! + matrix[5]! * b[2]!;
  const r = stepLowPass(c.accLowPass, state.rotation, matrix);
  const cb = stepLowPass(c.accLowPass, state.biasInEarth, rb);
  let observation: Float64Array = IDENTITY;
  if (state.atRest) {
    const lp = state.restGyro.out;
    for (let i = 0; i < 3; i++) innovation[i] = lp[i]! - b[i]!;
    weights.fill(c.weightRest);
  } else {
    observation = r;
    innovation[0] =
      -aEarth[1]! * c.rateHz + cb[0]! - (r[0]! * b[0]! + r[1]! * b[1]! + r[2]! * b[2]!);
    innovation[1] =
      aEarth[0]! * c.rateHz + cb[1]! - (r[3]! * b[0]! + r[4]! * b[1]! + r[5]! * b[2]!);
    innovation[2] = -(r[6]! * b[0]! + r[7]! * b[1]! + r[8]! * b[2]!);
    weights[0] = weights[1] = c.weightMotion;
    weights[2] = c.weightVertical;
  }
  const clip = c.params.biasClipRadS;
  for (let i = 0; i < 3; i++) {
    const diagonal = 4 * i;
    if (p[diagonal]! < c.biasP0) p[diagonal] = p[diagonal]! + c.biasV;
    innovation[i] = Math.min(clip, Math.max(-clip, innovation[i]!));
  }
  kalmanUpdate3(b, p, observation, innovation, weights);
  for (let i = 0; i < 3; i++) b[i] = Math.min(clip, Math.max(-clip, b[i]!));
}

function rotationMatrix(out: Float64Array, q: Quaternion): void {
  const w = q[0]!,
    x = q[1]!,
    y = q[2]!,
    z = q[3]!;
  out[0] = 1 - 2 * (y * y + z * z);
  out[1] = 2 * (x * y - w * z);
  out[2] = 2 * (x * z + w * y);
  out[3] = 2 * (x * y + w * z);
  out[4] = 1 - 2 * (x * x + z * z);
  out[5] = 2 * (y * z - w * x);
  out[6] = 2 * (x * z - w * y);
  out[7] = 2 * (y * z + w * x);
  out[8] = 1 - 2 * (x * x + y * y);
}
