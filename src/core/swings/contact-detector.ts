import { accelJerk, type SensorTrack, TRACK_CAPACITY } from '../orientation/sensor-track.ts';

/** Watches the implement sensor for contacts. Plain data. */
export interface ContactDetector {
  /** Seconds since the last contact by the implement sensor's own clock. */
  sinceContactS: number;
  /** Absolute number of the first sample of a knock that may be a contact; -1 when none is open. */
  knockSample: number;
  /** Usual jerk before that knock, and the largest since, m/s^2. */
  usualJerk: number;
  peakJerk: number;
}

/** The implement must turn at least this fast just before a contact, rad/s: bounces and taps do not. */
const LEAST_RATE_RAD_S = 5;
/** And nobody strikes twice within this time, seconds. */
const REFRACTORY_S = 0.6;
/** A contact shakes the sensor at least this hard within this time, m/s^2 and s. */
const LEAST_PEAK_MS2 = 45;
const PEAK_WITHIN_S = 0.03;
/** Its first sample is the first to reach this share of the peak and this multiple of the usual. */
const FIRST_SHARE = 0.04;
const FIRST_FACTOR = 3;
/** How far before the knock that first sample may lie: ringing can cross zero where it is sampled. */
const FIRST_BEFORE_S = 0.01;
const MASK = TRACK_CAPACITY - 1;

/** Nothing has happened yet. */
export function createContactDetector(): ContactDetector {
  return {
    sinceContactS: Number.POSITIVE_INFINITY,
    knockSample: -1,
    usualJerk: 0,
    peakJerk: 0,
  };
}

/**
 * Looks at the newest sample of the implement.
 * @param track the implement's, newest sample included @param knocked a knock begins with the newest sample
 * @returns unwrapped tick of a contact that is now certain (30 ms after it), midway between the last quiet
 *   sample and the first shaken one, so at most half a sampling interval off; else null
 */
export function detectContact(
  detector: ContactDetector,
  track: SensorTrack,
  knocked: boolean,
  dtS: number,
): number | null {
  detector.sinceContactS += dtS;
  const newest = track.count - 1;
  const free = detector.knockSample < 0 && detector.sinceContactS >= REFRACTORY_S;
  if (knocked && free && newest >= 4 && rateAt(track, newest - 1) >= LEAST_RATE_RAD_S) {
    detector.knockSample = newest;
    detector.usualJerk = track.usualJerk;
    detector.peakJerk = 0;
  }
  if (detector.knockSample < 0) return null;
  detector.peakJerk = Math.max(detector.peakJerk, accelJerk(track, newest));
  if ((newest - detector.knockSample) * track.intervalS < PEAK_WITHIN_S) return null;
  const first = firstShaken(detector, track);
  const isContact = detector.peakJerk >= LEAST_PEAK_MS2;
  detector.knockSample = -1;
  if (!isContact) return null;
  detector.sinceContactS = 0;
  return (track.tick[first & MASK]! + track.tick[(first - 1) & MASK]!) / 2;
}

function firstShaken(detector: ContactDetector, track: SensorTrack): number {
  const { knockSample, usualJerk, peakJerk } = detector;
  const least = Math.max(FIRST_SHARE * peakJerk, FIRST_FACTOR * usualJerk);
  const before = Math.round(FIRST_BEFORE_S / track.intervalS);
  let first = Math.max(2, knockSample - before);
  while (first < track.count - 1 && accelJerk(track, first) < least) first++;
  return first;
}

function rateAt(track: SensorTrack, sample: number): number {
  const slot = 3 * (sample & MASK);
  return Math.hypot(track.gyr[slot]!, track.gyr[slot + 1]!, track.gyr[slot + 2]!);
}
