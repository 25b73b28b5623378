import { RAD_PER_DEG, wrapAngle } from '../maths/angles.ts';

/**
 * The turn about the vertical between the earth frames of two sensors that share a joint, tracked with
 * its drift rate. Both sensors must find the same joint-centre acceleration; its horizontal part differs
 * only by that turn:
 *   delta = atan2( sum(a_i,y a_j,x - a_i,x a_j,y), sum(a_i,x a_j,x + a_i,y a_j,y) ),  a_i = Rz(delta) a_j.
 * A two-state Kalman filter (turn, drift rate) lags neither drift nor jumps and knows its uncertainty.
 * Plain data.
 */
export interface HeadingAgreement {
  /** The turn of j's frame onto i's, rad, and its drift, rad/s. */
  deltaRad: number;
  driftRadS: number;
  /** Covariance: turn, cross, drift. */
  pDelta: number;
  pCross: number;
  pDrift: number;
  /** Sums since the last update. */
  sumSine: number;
  sumCosine: number;
  sumSquareI: number;
  sumSquareJ: number;
  samples: number;
  /** Seconds and radians turned (both sensors) since the last update; knocks count extra. */
  elapsedS: number;
  turnedRad: number;
  knocks: number;
}

/** Neighbouring samples of a swing at 200 Hz say much the same: this many count as one. */
const CORRELATED_SAMPLES = 12;
/** Accelerometer bias that no averaging removes, both sensors together, m/s^2 (30 mg parts). */
const ACCEL_BIAS_MS2 = 0.3;
/** Lever arms, clocks and scales leave this much error in any one window. */
const SYSTEMATIC_SD_RAD = 1.2 * RAD_PER_DEG;
/** Below this horizontal acceleration (root mean square) a window says nothing. */
const LEAST_EXCITATION_MS2 = 1.5;
/** Gyroscope scale and cross-axis errors: heading error per radian turned. */
const DRIFT_PER_TURN = 0.004;
/** What one knock may leave, SD. */
const KNOCK_SD_RAD = 1 * RAD_PER_DEG;
/** Random walks of turn and drift rate. */
const WALK_RAD_SQRT_S = 0.03 * RAD_PER_DEG;
const DRIFT_WALK_RAD_S_SQRT_S = 0.01 * RAD_PER_DEG;
/** A first guess of the drift after a hold at rest. */
const DRIFT_SD_RAD_S = 0.1 * RAD_PER_DEG;
/** Beyond this many SDs an innovation is trusted less. */
const SURPRISE = 3;

/** Nothing known about the turn. */
export function createAgreement(): HeadingAgreement {
  return {
    deltaRad: 0,
    driftRadS: 0,
    pDelta: Math.PI ** 2,
    pCross: 0,
    pDrift: DRIFT_SD_RAD_S ** 2,
    sumSine: 0,
    sumCosine: 0,
    sumSquareI: 0,
    sumSquareJ: 0,
    samples: 0,
    elapsedS: 0,
    turnedRad: 0,
    knocks: 0,
  };
}

/** Adds one instant of joint-centre acceleration, horizontal parts in each sensor's earth frame, m/s^2. */
export function addJointAcceleration(
  state: HeadingAgreement,
  ix: number,
  iy: number,
  jx: number,
  jy: number,
): void {
  state.sumSine += iy * jx - ix * jy;
  state.sumCosine += ix * jx + iy * jy;
  state.sumSquareI += ix * ix + iy * iy;
  state.sumSquareJ += jx * jx + jy * jy;
  state.samples++;
}

/** Lets time pass: `turnedRad` is what the two sensors turned together, `knocks` what they felt. */
export function passTime(
  state: HeadingAgreement,
  stepS: number,
  turnedRad: number,
  knocks: number,
): void {
  state.elapsedS += stepS;
  state.turnedRad += turnedRad;
  state.knocks += knocks;
}

/**
 * Closes the window: predicts over the time that passed, then weighs in what the window measured.
 * @returns the SD the window's own measurement was given, rad; Infinity when it said nothing
 */
export function updateAgreement(state: HeadingAgreement): number {
  predict(state);
  const measurement = measureWindow(state);
  clearWindow(state);
  if (measurement === null) return Number.POSITIVE_INFINITY;
  correctAgreement(state, measurement.deltaRad, measurement.sdRad);
  return measurement.sdRad;
}

/** Weighs in one measurement of the turn, from a window or from the pointing pose. */
export function correctAgreement(state: HeadingAgreement, deltaRad: number, sdRad: number): void {
  const innovation = wrapAngle(deltaRad - state.deltaRad);
  let variance = sdRad * sdRad;
  const expected = state.pDelta + variance;
  const surprise = (innovation * innovation) / expected;
  if (surprise > SURPRISE * SURPRISE) variance += (surprise / (SURPRISE * SURPRISE) - 1) * expected;
  const total = state.pDelta + variance;
  const kDelta = state.pDelta / total;
  const kDrift = state.pCross / total;
  state.deltaRad = wrapAngle(state.deltaRad + kDelta * innovation);
  state.driftRadS += kDrift * innovation;
  state.pDrift -= kDrift * state.pCross;
  state.pCross *= 1 - kDelta;
  state.pDelta *= 1 - kDelta;
}

/** Starts over from a turn known otherwise. */
export function setAgreement(state: HeadingAgreement, deltaRad: number, sdRad: number): void {
  Object.assign(state, createAgreement(), { deltaRad, pDelta: sdRad * sdRad });
}

function predict(state: HeadingAgreement): void {
  const t = state.elapsedS;
  state.deltaRad = wrapAngle(state.deltaRad + state.driftRadS * t);
  const walk =
    WALK_RAD_SQRT_S ** 2 * t +
    (DRIFT_PER_TURN * state.turnedRad) ** 2 +
    state.knocks * KNOCK_SD_RAD ** 2;
  const q = DRIFT_WALK_RAD_S_SQRT_S ** 2;
  state.pDelta += 2 * t * state.pCross + t * t * state.pDrift + walk + (q * t ** 3) / 3;
  state.pCross += t * state.pDrift + (q * t * t) / 2;
  state.pDrift += q * t;
  // Nothing is less known than any turn at all; the correlation shrinks along, or the matrix would stop
  // being a covariance.
  if (state.pDelta > Math.PI ** 2) {
    state.pCross *= Math.PI / Math.sqrt(state.pDelta);
    state.pDelta = Math.PI ** 2;
  }
}

function measureWindow(state: HeadingAgreement): { deltaRad: number; sdRad: number } | null {
  const { samples, sumSine, sumCosine, sumSquareI, sumSquareJ } = state;
  if (samples < CORRELATED_SAMPLES) return null;
  const meanSquare = (sumSquareI + sumSquareJ) / (2 * samples);
  if (meanSquare < LEAST_EXCITATION_MS2 ** 2) return null;
  const residual = Math.max(0, sumSquareI + sumSquareJ - 2 * Math.hypot(sumSine, sumCosine));
  const noise = residual / (2 * samples); // per axis and sample
  const variance =
    (noise * CORRELATED_SAMPLES) / (samples * meanSquare) +
    ACCEL_BIAS_MS2 ** 2 / meanSquare +
    SYSTEMATIC_SD_RAD ** 2;
  return { deltaRad: Math.atan2(sumSine, sumCosine), sdRad: Math.sqrt(variance) };
}

function clearWindow(state: HeadingAgreement): void {
  state.sumSine = 0;
  state.sumCosine = 0;
  state.sumSquareI = 0;
  state.sumSquareJ = 0;
  state.samples = 0;
  state.elapsedS = 0;
  state.turnedRad = 0;
  state.knocks = 0;
}
