import { RAD_PER_DEG, wrapAngle } from '../maths/angles.ts';
import type { Vector3 } from '../maths/vector.ts';
import {
  correctHeading,
  type HeadingBelief,
  predictHeading,
  unknownHeading,
} from './heading-belief.ts';

/** What a filter of headings went through: enough to run it again from the other end. */
export type HeadingStep =
  | {
      readonly kind: 'passed';
      readonly stepS: number;
      readonly walkVariance: number;
      readonly noiseWalkVariance: number;
    }
  | {
      readonly kind: 'measured';
      readonly deltaRad: number;
      readonly variance: number;
      readonly noiseVariance: number;
    }
  /** Nothing before says anything about what follows. */
  | { readonly kind: 'began-anew' };

/**
 * The turn about the vertical between the earth frames of two sensors that share a joint, tracked with
 * its drift rate. Both sensors must find the same joint-centre acceleration; its horizontal part differs
 * only by that turn:
 *   delta = atan2( sum(a_i,y a_j,x - a_i,x a_j,y), sum(a_i,x a_j,x + a_i,y a_j,y) ),  a_i = Rz(delta) a_j.
 * A two-state Kalman filter (turn, drift rate) lags neither drift nor jumps and knows its uncertainty.
 * Plain data.
 */
export interface HeadingAgreement extends HeadingBelief {
  /** All it went through, oldest first: for review, which also knows what came later. */
  readonly history: HeadingStep[];
  /** Steps of it that a swing refers to: these stay as they are. */
  noted: number;
  /** Sums since the last update. */
  sumSine: number;
  sumCosine: number;
  sumSquareI: number;
  sumSquareJ: number;
  /** Instants that are in these sums. */
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
/**
 * Below this horizontal acceleration (root mean square) a window says nothing; above, its bias term alone keeps a weak
 * window from saying much (at 1 m/s^2 an SD of 17 degrees).
 */
const LEAST_EXCITATION_MS2 = 0.5;
/** Gyroscope scale and cross-axis errors: heading error per radian turned. */
const DRIFT_PER_TURN = 0.004;
/** What one knock may leave, SD. */
const KNOCK_SD_RAD = 1 * RAD_PER_DEG;
/** Random walk of the turn. */
const WALK_RAD_SQRT_S = 0.03 * RAD_PER_DEG;
/** A first guess of the drift after a hold at rest. */
const DRIFT_SD_RAD_S = 0.1 * RAD_PER_DEG;
/** Beyond this many SDs an innovation is trusted less. */
const SURPRISE = 3;

/** Nothing known about the turn. */
export function createAgreement(): HeadingAgreement {
  const { deltaRad, driftRadS, pDelta, pCross, pDrift, noise } = unknownHeading(DRIFT_SD_RAD_S);
  // Spread into a literal this long, V8 keeps the object as a dictionary, and it is written at every instant.
  return {
    deltaRad,
    driftRadS,
    pDelta,
    pCross,
    pDrift,
    noise,
    history: [],
    noted: 0,
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

/**
 * Adds one instant of joint-centre acceleration.
 * @param i, j as sensors i and j find it, each in its earth frame, m/s^2, shape (3); only the horizontal parts count
 * @param instants that this one stands for
 */
export function addJointAcceleration(
  state: HeadingAgreement,
  i: Vector3,
  j: Vector3,
  instants = 1,
): void {
  const ix = i[0]!,
    iy = i[1]!;
  const jx = j[0]!,
    jy = j[1]!;
  state.sumSine += instants * (iy * jx - ix * jy);
  state.sumCosine += instants * (ix * jx + iy * jy);
  state.sumSquareI += instants * (ix * ix + iy * iy);
  state.sumSquareJ += instants * (jx * jx + jy * jy);
  state.samples += instants;
}

/** Lets time pass. @param stepS seconds @param turnedRad what the two sensors turned together meanwhile */
export function passTime(state: HeadingAgreement, stepS: number, turnedRad: number): void {
  state.elapsedS += stepS;
  state.turnedRad += turnedRad;
}

/** A knock went through the arm. */
export function noteKnock(state: HeadingAgreement): void {
  state.knocks++;
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
  const noiseVariance = noiseSdRad ** 2 + variance - sdRad * sdRad;
  correctHeading(state, deltaRad, variance, noiseVariance);
  state.history.push({ kind: 'measured', deltaRad, variance, noiseVariance });
}

/** One of the two sensors lost its orientation: the turn may be any, what is known of the drift stays. */
export function forgetTurn(state: HeadingAgreement): void {
  const { driftRadS, pDrift } = state;
  beginAnew(state);
  Object.assign(state, { driftRadS, pDrift });
}

/** Starts over from a turn known otherwise. */
export function setAgreement(state: HeadingAgreement, deltaRad: number, sdRad: number): void {
  beginAnew(state);
  Object.assign(state, { deltaRad, pDelta: sdRad * sdRad });
  state.noise.pDelta = sdRad * sdRad;
}

/** Nothing known any more; what went before stays on record. */
export function beginAnew(state: HeadingAgreement): void {
  const { history, noted } = state;
  history.push({ kind: 'began-anew' });
  Object.assign(state, createAgreement(), { history, noted });
}

/** How far the history has come, for a swing to refer to. */
export function noteHistory(state: HeadingAgreement): number {
  state.noted = state.history.length;
  return state.noted;
}

function predict(state: HeadingAgreement): void {
  const stepS = state.elapsedS;
  // Scale and cross-axis errors turn every swing alike: the drift takes that up.
  const noiseWalkVariance = WALK_RAD_SQRT_S ** 2 * stepS + state.knocks * KNOCK_SD_RAD ** 2;
  const walkVariance = noiseWalkVariance + (DRIFT_PER_TURN * state.turnedRad) ** 2;
  predictHeading(state, stepS, walkVariance, noiseWalkVariance);
  recordPassed(state, { kind: 'passed', stepS, walkVariance, noiseWalkVariance });
}

/** Seconds in which nothing was measured are one step, however many they are: an hour's rest costs no memory. */
function recordPassed(
  { history, noted }: HeadingAgreement,
  step: Extract<HeadingStep, { kind: 'passed' }>,
): void {
  const last = history.at(-1);
  if (last?.kind !== 'passed' || history.length === noted) {
    history.push(step);
    return;
  }
  // the walk of turn and drift is the same in one step as in two
  history[history.length - 1] = {
    kind: 'passed',
    stepS: last.stepS + step.stepS,
    walkVariance: last.walkVariance + step.walkVariance,
    noiseWalkVariance: last.noiseWalkVariance + step.noiseWalkVariance,
  };
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
