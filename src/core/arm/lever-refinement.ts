import { solveSymmetric } from '../maths/solve-symmetric.ts';
import { addScaled, cross, norm, type Vector3, vector3 } from '../maths/vector.ts';
import type { TrackReading } from '../orientation/sensor-track.ts';
import type { JointLevers } from './chain-levers.ts';

/**
 * Where a joint lies as seen from the two sensors beside it, refined from motion: both must feel a specific
 * force of the same size there, whatever their headings. Plain data.
 */
export interface LeverRefinement {
  /** From the sensor above the joint, and from the one below, to its centre; sensor frames, metres, shape (3). */
  readonly aboveM: Vector3;
  readonly belowM: Vector3;
  /** As measured by tape, where the refinement started. */
  readonly taped: JointLevers;
  /** What is known: inverse covariance, row-major (6, 6), 1/m^2. */
  readonly information: Float64Array;
  /** Since the last update: J'J and J'e, weighted. */
  readonly windowNormal: Float64Array;
  readonly windowGradient: Float64Array;
}

/** How well tape and eye place a joint, SD, metres. */
const TAPE_SD_M = 0.02;
/** Further from the tape than this the sensors slipped or the model does not hold: then the tape counts. */
const FURTHEST_M = 0.06;
/** Slow turning says nothing about levers, rad/s. */
const LEAST_RATE_RAD_S = 4;
/** Neighbouring instants at 50 Hz say much the same: this many count as one. */
const CORRELATED_SAMPLES = 3;
/** Disagreement of the two sizes that noise, bias, scale and clocks explain: m/s^2, and share of the force. */
const FORCE_SD_MS2 = 0.5;
const FORCE_SD_SHARE = 0.03;

/** Nothing known but the tape. */
export function createLeverRefinement(taped: JointLevers): LeverRefinement {
  const information = new Float64Array(36);
  for (let i = 0; i < 6; i++) information[7 * i] = 1 / TAPE_SD_M ** 2;
  return {
    aboveM: Float64Array.from(taped.aboveM),
    belowM: Float64Array.from(taped.belowM),
    taped,
    information,
    windowNormal: new Float64Array(36),
    windowGradient: new Float64Array(6),
  };
}

const swept = vector3();
const jacobian = new Float64Array(6);

/**
 * Adds one instant without shock, of 50 a second. Allocation-free.
 * @param forceAbove, forceBelow specific force at the joint by the levers as they are, sensor frames, m/s^2, shape (3)
 */
export function addLeverEvidence(
  state: LeverRefinement,
  above: TrackReading,
  below: TrackReading,
  forceAbove: Vector3,
  forceBelow: Vector3,
): void {
  if (norm(above.gyr) + norm(below.gyr) < LEAST_RATE_RAD_S) return;
  const sizeAbove = norm(forceAbove);
  const sizeBelow = norm(forceBelow);
  if (sizeAbove === 0 || sizeBelow === 0) return;
  fillGradient(0, 1 / sizeAbove, above, forceAbove);
  fillGradient(3, -1 / sizeBelow, below, forceBelow);
  const sd = FORCE_SD_MS2 + FORCE_SD_SHARE * (sizeAbove + sizeBelow);
  const weight = 1 / (sd * sd * CORRELATED_SAMPLES);
  const difference = sizeAbove - sizeBelow;
  for (let i = 0; i < 6; i++) {
    state.windowGradient[i] = state.windowGradient[i]! + weight * jacobian[i]! * difference;
    for (let j = 0; j < 6; j++) {
      state.windowNormal[6 * i + j] =
        state.windowNormal[6 * i + j]! + weight * jacobian[i]! * jacobian[j]!;
    }
  }
}

/** d|a|/dr = (-w' x a + w x (w x a)) / |a|: both cross-product matrices transposed. */
function fillGradient(at: 0 | 3, factor: number, reading: TrackReading, force: Vector3): void {
  cross(swept, reading.gyr, force);
  cross(swept, reading.gyr, swept);
  addScaled(swept, swept, -1, cross(tangential, reading.gyrRate, force));
  for (let i = 0; i < 3; i++) jacobian[at + i] = factor * swept[i]!;
}

const tangential = vector3();
const step = new Float64Array(6);

/**
 * Closes a window: one Gauss-Newton step with everything known before as prior (an iterated extended Kalman
 * filter in information form).
 * Source: Seel, Schauer & Raisch 2012, doi 10.1109/CCA.2012.6402423, section III-B (the residual and its use);
 * the recursion is the information filter, e.g. Bar-Shalom, Li & Kirubarajan 2001, section 7.2 (from memory).
 * Checked: tests/arm/lever-refinement.test.ts against simulated truth.
 */
export function updateLevers(state: LeverRefinement): void {
  const { information, windowNormal, windowGradient } = state;
  for (let i = 0; i < 36; i++) information[i] = information[i]! + windowNormal[i]!;
  const solved = solveSymmetric(step, information, windowGradient);
  windowNormal.fill(0);
  windowGradient.fill(0);
  if (!solved) return;
  for (let i = 0; i < 3; i++) {
    state.aboveM[i] = state.aboveM[i]! - step[i]!;
    state.belowM[i] = state.belowM[i]! - step[3 + i]!;
  }
  if (offTape(state) > FURTHEST_M) {
    const fresh = createLeverRefinement(state.taped);
    state.aboveM.set(fresh.aboveM);
    state.belowM.set(fresh.belowM);
    information.set(fresh.information);
  }
}

/** How far the joint has moved away from where the tape had it, the larger of the two, metres. */
function offTape({ aboveM, belowM, taped }: LeverRefinement): number {
  const far = (lever: Vector3, from: Vector3) =>
    Math.hypot(lever[0]! - from[0]!, lever[1]! - from[1]!, lever[2]! - from[2]!);
  return Math.max(far(aboveM, taped.aboveM), far(belowM, taped.belowM));
}
