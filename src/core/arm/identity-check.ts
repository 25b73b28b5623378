import { norm, type Vector3, vector3 } from '../maths/vector.ts';
import type { TrackReading } from '../orientation/sensor-track.ts';
import { jointForceInSensor } from './joint-acceleration.ts';
import { SEGMENT_WORDS, SEGMENTS } from './segments.ts';

/**
 * Which sensor sits on which segment, from motion alone. Two sensors beside a joint feel a specific force of
 * the same size there, whatever their headings and however they are turned on their segments; sensors at
 * each other's places do not, nor does one turned end for end after its long axis was taken. The likelihoods
 * of these cases are compared. Plain data.
 */
export interface IdentityCheck {
  /** Minus the log-likelihood of seat a above and seat b below elbow and wrist, at 6 a + b, shape (36) each. */
  readonly elbowCost: Float64Array;
  readonly wristCost: Float64Array;
}

/** One way the three sensors may sit. */
interface Fit {
  /** `places[k]` is the sensor (by name, 0 upper arm .. 2 implement) that sits on segment k. */
  readonly places: readonly [number, number, number];
  /** The sensor turned end for end since its long axis was taken. */
  readonly turned: number | null;
}

/**
 * From the sensor to the joint along its segment, metres: upper arm to elbow, forearm to elbow, forearm to
 * wrist, implement to wrist.
 */
export type JointDistances = readonly [number, number, number, number];

const RIGHT: Fit['places'] = [0, 1, 2];
/** All the ways that are told apart, the right one first. */
export const FITS: readonly Fit[] = [
  { places: RIGHT, turned: null },
  { places: [1, 0, 2], turned: null },
  { places: [0, 2, 1], turned: null },
  { places: [2, 1, 0], turned: null },
  { places: [1, 2, 0], turned: null },
  { places: [2, 0, 1], turned: null },
  { places: RIGHT, turned: 0 },
  { places: RIGHT, turned: 1 },
  { places: RIGHT, turned: 2 },
];
/** While all turn slower than this they say little about each other, rad/s. */
const LEAST_RATE_RAD_S = 1;
/** What noise, bias and clocks leave between the two sizes, m/s^2, and as a share of the force. */
const FORCE_SD_MS2 = 0.6;
const FORCE_SD_SHARE = 0.03;
/** How far tape, eye and a swaying strap misplace a joint, metres. */
const LEVER_SD_M = 0.03;
/** Neighbouring instants at 200 Hz say much the same: this many count as one. */
const CORRELATED_SAMPLES = 12;
/** No single instant counts for more than this many SDs. */
const WORST_SDS = 5;
/** Log odds at which one way is believed over all others. */
const DECISIVE = 15;

/** Nothing seen yet. */
export function createIdentityCheck(): IdentityCheck {
  return { elbowCost: new Float64Array(36), wristCost: new Float64Array(36) };
}

// A seat is a sensor with the sign of its long axis: 2 sensor + (0 as taken, 1 turned end for end).
const sizes = new Float64Array(24); // at 4 seat + joint distance
const unevenness = new Float64Array(6);
const force = vector3();
const lever = vector3();

/**
 * Adds one instant without shock.
 * @param readings of the three sensors in the order of their names
 * @param longAxes of what they sit on, sensor frames, unit, three of shape (3)
 */
export function addIdentityEvidence(
  check: IdentityCheck,
  readings: readonly TrackReading[],
  longAxes: readonly Vector3[],
  distances: JointDistances,
): void {
  if (readings.every((reading) => norm(reading.gyr) < LEAST_RATE_RAD_S)) return;
  for (let seat = 0; seat < 6; seat++) {
    const reading = readings[seat >> 1]!;
    const axis = longAxes[seat >> 1]!;
    const sign = seat % 2 === 0 ? 1 : -1;
    for (let j = 0; j < 4; j++) {
      for (let i = 0; i < 3; i++) lever[i] = sign * distances[j]! * axis[i]!;
      sizes[4 * seat + j] = norm(jointForceInSensor(force, reading, lever));
    }
    unevenness[seat] = norm(reading.gyr) ** 2 + norm(reading.gyrRate);
  }
  for (let a = 0; a < 6; a++) {
    for (let b = 0; b < 6; b++) {
      if (a >> 1 === b >> 1) continue;
      const leverVariance = LEVER_SD_M ** 2 * (unevenness[a]! ** 2 + unevenness[b]! ** 2);
      addCost(check.elbowCost, 6 * a + b, sizes[4 * a]!, sizes[4 * b + 1]!, leverVariance);
      addCost(check.wristCost, 6 * a + b, sizes[4 * a + 2]!, sizes[4 * b + 3]!, leverVariance);
    }
  }
}

function addCost(
  costs: Float64Array,
  at: number,
  above: number,
  below: number,
  leverVariance: number,
): void {
  const variance = FORCE_SD_MS2 ** 2 + (FORCE_SD_SHARE * (above + below)) ** 2 + leverVariance;
  const squares = Math.min(WORST_SDS ** 2, (above - below) ** 2 / variance);
  costs[at] = costs[at]! + (squares + Math.log(variance)) / (2 * CORRELATED_SAMPLES);
}

/** How much likelier each way of {@link FITS} is than the right one, log odds; 0 for the right one itself. */
export function fitOdds(check: IdentityCheck): number[] {
  const right = costOf(check, FITS[0]!);
  return FITS.map((fit) => right - costOf(check, fit));
}

/**
 * What the motion says so far.
 * @returns the number in {@link FITS} of the way the sensors sit when that is beyond doubt, else null
 * Source: the size of the joint's specific force as residual: Seel, Schauer & Raisch 2012,
 * doi 10.1109/CCA.2012.6402423, section III-B; decision by likelihood ratio: Wald 1945 (from memory).
 * Checked: tests/arm/identity-check.test.ts, tests/pipeline/identity.test.ts
 */
export function likeliestFit(check: IdentityCheck): number | null {
  const odds = fitOdds(check);
  const best = odds.indexOf(Math.max(...odds));
  const isSure = odds.every((other, i) => i === best || odds[best]! - other > DECISIVE);
  return isSure ? best : null;
}

function costOf({ elbowCost, wristCost }: IdentityCheck, { places, turned }: Fit): number {
  const [upper, fore, hand] = places.map((s) => 2 * s + (s === turned ? 1 : 0));
  return elbowCost[6 * upper! + fore!]! + wristCost[6 * fore! + hand!]!;
}

/**
 * What is wrong with the way the sensors sit.
 * @param fit number in {@link FITS}
 * @returns in words a coach can act on; null when each sits where its name says
 */
export function fitProblem(fit: number): string | null {
  const { places, turned } = FITS[fit]!;
  const word = (k: number) => SEGMENT_WORDS[SEGMENTS[k]!];
  if (turned !== null) {
    return `The ${word(turned)} sensor seems to have been turned round since the arm hung. Fasten it and hold both poses again.`;
  }
  const moved = places.flatMap((sensor, k) => (sensor === k ? [] : [k]));
  if (moved.length === 0) return null;
  if (moved.length === 3) {
    return 'All three sensors seem to sit at wrong places. Put each on its own (blinking shows which is which) and hold both poses again.';
  }
  return `The ${word(moved[0]!)} and ${word(moved[1]!)} sensors seem to be swapped. Exchange them (blinking shows which is which) and hold both poses again.`;
}

/** Which kind of fault that is. */
export function misfitOf(fit: number): 'swapped' | 'slipped' {
  return FITS[fit]!.turned === null ? 'swapped' : 'slipped';
}
