import { accelJerk, type SensorTrack, TRACK_CAPACITY } from '../orientation/sensor-track.ts';
import { forceAt, rateAt, type TurningSpeed, turningAt, turnOver } from './turning-speed.ts';

/** Watches the implement sensor for contacts. Plain data. */
export interface ContactDetector {
  /** Seconds since the last contact was certain, and since the implement last fell to the ground, by its own clock. */
  sinceContactS: number;
  sinceFallS: number;
  /** Absolute number of the first sample of a knock that may be a contact; -1 when none is open. */
  knockSample: number;
  /** Usual jerk before that knock, the largest since, m/s^2, and the sum of squares since, m^2/s^4. */
  usualJerk: number;
  peakJerk: number;
  jerkSquares: number;
}

/** The implement must turn at least this fast before a contact, mean over 0.1 s, rad/s: bounces and taps do not. */
export const LEAST_TURNING_RAD_S = 5;
/** And by so much within this time: whoever taps something moves to and fro, rad and s. */
export const LEAST_TURN_RAD = 0.4;
export const TURNED_WITHIN_S = 0.25;
/** And nobody strikes twice within this time, seconds. */
const REFRACTORY_S = 0.6;
/** Whatever fell bounces, topples and must be picked up first, seconds. */
export const ON_GROUND_S = 2;
/**
 * A knock out of free fall is the ground. So long before it the sensor felt next to nothing but what a steady
 * tumble adds at this distance from the centre of mass, and felt it steadily, while gravity would turn with a
 * hand that turns: s, m/s^2, m, m/s^2.
 */
const FALL_S = 0.15;
const FALL_FORCE_MS2 = 3;
const FALL_ARM_M = 0.2;
const FALL_CHANGE_MS2 = 4;
/** The knock itself may have begun so many samples before it was noticed. */
const KNOCK_SAMPLES = 3;
/**
 * A contact shakes the sensor at least this hard within this time, root of the summed squares of the jerk, m/s^2
 * and s: one peak of the ringing can hide between samples 5 ms apart, not all of it.
 */
const LEAST_SHAKING_MS2 = 56;
const SHAKEN_WITHIN_S = 0.03;
/**
 * Its first sample is the first to reach this share of the peak, this multiple of the usual, and of the roughest
 * just before: a wrist thrown late is rougher than what was usual.
 */
const FIRST_SHARE = 0.025;
const FIRST_FACTOR = 2.5;
const ROUGH_SAMPLES = 3;
/** How far before the knock that first sample may lie: ringing can cross zero where it is sampled. */
const FIRST_BEFORE_S = 0.01;
const MASK = TRACK_CAPACITY - 1;

/** Nothing has happened yet. */
export function createContactDetector(): ContactDetector {
  return {
    sinceContactS: Number.POSITIVE_INFINITY,
    sinceFallS: Number.POSITIVE_INFINITY,
    knockSample: -1,
    usualJerk: 0,
    peakJerk: 0,
    jerkSquares: 0,
  };
}

/**
 * Looks at the newest sample of the implement.
 * @param track the implement's, newest sample included @param turning of the same samples
 * @param knocked a knock begins with the newest sample
 * @returns unwrapped tick of a contact that is now certain (30 ms after it), midway between the last quiet
 *   sample and the first shaken one, so at most half a sampling interval off; else null
 */
export function detectContact(
  detector: ContactDetector,
  track: SensorTrack,
  turning: TurningSpeed,
  knocked: boolean,
  dtS: number,
): number | null {
  detector.sinceContactS += dtS;
  detector.sinceFallS += dtS;
  const newest = track.count - 1;
  if (knocked && newest >= 4) noteKnock(detector, track, turning);
  if (detector.knockSample < 0) return null;
  const jerk = accelJerk(track, newest);
  detector.peakJerk = Math.max(detector.peakJerk, jerk);
  detector.jerkSquares += jerk * jerk;
  if ((newest - detector.knockSample) * track.intervalS < SHAKEN_WITHIN_S) return null;
  const first = firstShaken(detector, track);
  const isContact = Math.sqrt(detector.jerkSquares) >= LEAST_SHAKING_MS2;
  detector.knockSample = -1;
  if (!isContact) return null;
  detector.sinceContactS = 0;
  return (track.tick[first & MASK]! + track.tick[(first - 1) & MASK]!) / 2;
}

/** A knock with the newest sample: the ground, perhaps a contact, or neither. */
function noteKnock(detector: ContactDetector, track: SensorTrack, turning: TurningSpeed): void {
  const newest = track.count - 1;
  if (fellUntil(track, newest - KNOCK_SAMPLES)) detector.sinceFallS = 0;
  if (detector.knockSample >= 0 || detector.sinceContactS < REFRACTORY_S) return;
  if (detector.sinceFallS < ON_GROUND_S) return;
  if (turningAt(turning, newest - 1) < LEAST_TURNING_RAD_S) return;
  const since = newest - 1 - Math.round(TURNED_WITHIN_S / track.intervalS);
  if (since < 0 || turnOver(track, since, newest - 1) < LEAST_TURN_RAD) return;
  detector.knockSample = newest;
  detector.usualJerk = track.usualJerk;
  detector.peakJerk = 0;
  detector.jerkSquares = 0;
}

/** Whether the sensor was in free fall up to a sample. A swing is not, nor is an implement that is held. */
function fellUntil(track: SensorTrack, sample: number): boolean {
  const first = sample - Math.round(FALL_S / track.intervalS);
  if (first < 0 || track.unbroken < track.count - first) return false;
  for (let n = sample; n >= first; n--) {
    if (forceAt(track, n) > FALL_FORCE_MS2 + FALL_ARM_M * rateAt(track, n) ** 2) return false;
    if (forceChange(track, n, sample) > FALL_CHANGE_MS2) return false;
  }
  return true;
}

function forceChange({ acc }: SensorTrack, from: number, to: number): number {
  let square = 0;
  for (let i = 0; i < 3; i++)
    square += (acc[3 * (from & MASK) + i]! - acc[3 * (to & MASK) + i]!) ** 2;
  return Math.sqrt(square);
}

function firstShaken(detector: ContactDetector, track: SensorTrack): number {
  const { knockSample, usualJerk, peakJerk } = detector;
  const before = Math.round(FIRST_BEFORE_S / track.intervalS);
  let first = Math.max(2, knockSample - before);
  let rough = usualJerk;
  for (let n = Math.max(2, first - ROUGH_SAMPLES); n < first; n++) {
    rough = Math.max(rough, accelJerk(track, n));
  }
  const least = Math.max(FIRST_SHARE * peakJerk, FIRST_FACTOR * rough);
  while (first < knockSample && accelJerk(track, first) < least) first++;
  return first;
}
