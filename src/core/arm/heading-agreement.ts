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
  /** The part of that covariance that differs from swing to swing; the rest all windows share. */
  readonly noise: { pDelta: number; pCross: number; pDrift: number };
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
    noise: { pDelta: Math.PI ** 2, pCross: 0, pDrift: DRIFT_SD_RAD_S ** 2 },
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
  const { deltaRad, sdRad, noiseSdRad } = measurement;
  correctAgreement(state, deltaRad, sdRad, noiseSdRad);
  return sdRad;
}

/**
 * Weighs in one measurement of the turn, from a window or from the pointing pose.
 * @param sdRad its error, by which it is weighed @param noiseSdRad the part that the next one does not share
 */
export function correctAgreement(
  state: HeadingAgreement,
  deltaRad: number,
  sdRad: number,
  noiseSdRad = sdRad,
): void {
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
  correctNoise(state.noise, kDelta, kDrift, noiseSdRad ** 2 + variance - sdRad * sdRad);
}

/** Joseph's form, good for any gain: the weights are those of the whole error, the variance that of its part. */
function correctNoise(
  noise: HeadingAgreement['noise'],
  kDelta: number,
  kDrift: number,
  variance: number,
): void {
  const { pDelta, pCross } = noise;
  const rest = 1 - kDelta;
  noise.pDrift += kDrift * (kDrift * (pDelta + variance) - 2 * pCross);
  noise.pCross = rest * (pCross - kDrift * pDelta) + kDelta * kDrift * variance;
  noise.pDelta = rest * rest * pDelta + kDelta * kDelta * variance;
}

/** One of the two sensors lost its orientation: the turn may be any, what is known of the drift stays. */
export function forgetTurn(state: HeadingAgreement): void {
  const { driftRadS, pDrift } = state;
  Object.assign(state, createAgreement(), { driftRadS, pDrift });
}

/** Starts over from a turn known otherwise. */
export function setAgreement(state: HeadingAgreement, deltaRad: number, sdRad: number): void {
  const fresh = createAgreement();
  fresh.noise.pDelta = sdRad * sdRad;
  Object.assign(state, fresh, { deltaRad, pDelta: sdRad * sdRad });
}

function predict(state: HeadingAgreement): void {
  const t = state.elapsedS;
  state.deltaRad = wrapAngle(state.deltaRad + state.driftRadS * t);
  const walk =
    WALK_RAD_SQRT_S ** 2 * t +
    (DRIFT_PER_TURN * state.turnedRad) ** 2 +
    state.knocks * KNOCK_SD_RAD ** 2;
  spread(state, t, walk);
  spread(state.noise, t, walk);
}

function spread(p: HeadingAgreement['noise'], t: number, walk: number): void {
  const q = DRIFT_WALK_RAD_S_SQRT_S ** 2;
  p.pDelta += 2 * t * p.pCross + t * t * p.pDrift + walk + (q * t ** 3) / 3;
  p.pCross += t * p.pDrift + (q * t * t) / 2;
  p.pDrift += q * t;
  // Nothing is less known than any turn at all; the correlation shrinks along, or the matrix would stop
  // being a covariance.
  if (p.pDelta > Math.PI ** 2) {
    p.pCross *= Math.PI / Math.sqrt(p.pDelta);
    p.pDelta = Math.PI ** 2;
  }
}

interface WindowMeasurement {
  readonly deltaRad: number;
  readonly sdRad: number;
  /** Without what biases, levers and scales add to every window alike. */
  readonly noiseSdRad: number;
}

function measureWindow(state: HeadingAgreement): WindowMeasurement | null {
  const { samples, sumSine, sumCosine, sumSquareI, sumSquareJ } = state;
  if (samples < CORRELATED_SAMPLES) return null;
  const meanSquare = (sumSquareI + sumSquareJ) / (2 * samples);
  if (meanSquare < LEAST_EXCITATION_MS2 ** 2) return null;
  const residual = Math.max(0, sumSquareI + sumSquareJ - 2 * Math.hypot(sumSine, sumCosine));
  const noise = residual / (2 * samples); // per axis and sample
  const noiseVariance = (noise * CORRELATED_SAMPLES) / (samples * meanSquare);
  const variance = noiseVariance + ACCEL_BIAS_MS2 ** 2 / meanSquare + SYSTEMATIC_SD_RAD ** 2;
  return {
    deltaRad: Math.atan2(sumSine, sumCosine),
    sdRad: Math.sqrt(variance),
    noiseSdRad: Math.sqrt(noiseVariance),
  };
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
