import { dot, norm, type Vector3, vector3 } from '../maths/vector.ts';
import type { TrackReading } from '../orientation/sensor-track.ts';
import { leverAcceleration } from './joint-acceleration.ts';
import { SEGMENT_WORDS, SEGMENTS } from './segments.ts';

/**
 * Which sensor sits on which segment, from motion alone. Two sensors beside a joint feel a specific force of
 * the same size there, whatever their headings and however they are turned on their segments; sensors at
 * each other's places do not, nor does one turned end for end after its long axis was taken. The likelihoods
 * of these cases are compared. Plain data.
 */
export interface IdentityCheck {
  /** Minus the log-likelihood of seat a above and seat b below elbow and wrist, at 6 a + b, shape (36) each; 0 where no way has it so. */
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
/** Neighbouring instants at 50 Hz say much the same: this many count as one. */
const CORRELATED_SAMPLES = 3;
/** No single instant counts for more than this many SDs. */
const WORST_SDS = 5;
/** Log odds at which one way is believed over all others. */
const DECISIVE = 15;

/** Nothing seen yet. */
export function createIdentityCheck(): IdentityCheck {
  return { elbowCost: new Float64Array(36), wristCost: new Float64Array(36) };
}

/** The seats of a way to sit: 2 sensor + (0 as its long axis was taken, 1 turned end for end), segment by segment. */
function seatsOf({ places, turned }: Fit): [number, number, number] {
  const seat = (s: number) => 2 * s + (s === turned ? 1 : 0);
  return [seat(places[0]), seat(places[1]), seat(places[2])];
}

// The pairs of seats that any of the ways has at elbow and wrist, each once: 6 above + below.
const ELBOW_PAIRS = [...new Set(FITS.map(seatsOf).map(([upper, fore]) => 6 * upper + fore))];
const WRIST_PAIRS = [...new Set(FITS.map(seatsOf).map(([, fore, hand]) => 6 * fore + hand))];

const sizes = new Float64Array(24); // at 4 seat + joint distance
const unevenness = new Float64Array(6);
const perMetre = vector3();

/**
 * Adds one instant without shock, of 50 a second.
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
  for (let seat = 0; seat < 6; seat += 2)
    fillSizes(seat, readings[seat >> 1]!, longAxes[seat >> 1]!, distances);
  for (const pair of ELBOW_PAIRS) addCost(check.elbowCost, pair, 0);
  for (const pair of WRIST_PAIRS) addCost(check.wristCost, pair, 2);
}

/** Size of the force that a sensor implies at each distance along its axis, both ways round: linear in the distance. */
function fillSizes(
  seat: number,
  reading: TrackReading,
  axis: Vector3,
  distances: JointDistances,
): void {
  leverAcceleration(perMetre, reading, axis);
  const still = dot(reading.acc, reading.acc);
  const mixed = 2 * dot(reading.acc, perMetre);
  const turning = dot(perMetre, perMetre);
  for (let j = 0; j < 4; j++) {
    const metres = distances[j]!;
    const even = still + metres * metres * turning;
    sizes[4 * seat + j] = Math.sqrt(Math.max(0, even + metres * mixed));
    sizes[4 * seat + 4 + j] = Math.sqrt(Math.max(0, even - metres * mixed));
  }
  unevenness[seat] = unevenness[seat + 1] = dot(reading.gyr, reading.gyr) + norm(reading.gyrRate);
}

/** @param distance which of the joint's: from the seat above; from the one below it is the next */
function addCost(costs: Float64Array, at: number, distance: 0 | 2): void {
  const a = Math.floor(at / 6);
  const b = at % 6;
  const above = sizes[4 * a + distance]!;
  const below = sizes[4 * b + distance + 1]!;
  const leverVariance = LEVER_SD_M ** 2 * (unevenness[a]! ** 2 + unevenness[b]! ** 2);
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

function costOf({ elbowCost, wristCost }: IdentityCheck, fit: Fit): number {
  const [upper, fore, hand] = seatsOf(fit);
  return elbowCost[6 * upper + fore]! + wristCost[6 * fore + hand]!;
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
