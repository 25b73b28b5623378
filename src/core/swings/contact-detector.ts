import { accelJerk, type SensorTrack, TRACK_CAPACITY } from '../orientation/sensor-track.ts';

/** Remembers the last contact, so that its ringing is not another. Plain data. */
export interface ContactDetector {
  /** Seconds since the last contact by the implement sensor's own clock. */
  sinceContactS: number;
}

/** The implement must turn at least this fast just before a contact, rad/s: bounces and taps do not. */
const LEAST_RATE_RAD_S = 5;
/** And nobody strikes twice within this time, seconds. */
const REFRACTORY_S = 0.6;
/** Ringing may cross zero just where it is sampled: a first shaken sample can look this mild, times the usual. */
const MILD_KNOCK_FACTOR = 2.5;
const MASK = TRACK_CAPACITY - 1;

/** Nothing has happened yet. */
export function createContactDetector(): ContactDetector {
  return { sinceContactS: Number.POSITIVE_INFINITY };
}

/**
 * Decides whether a knock on the implement sensor is a contact.
 * @param track the implement's, newest sample included @param knocked a knock begins with the newest sample
 * @returns unwrapped tick of the contact, midway between the last quiet sample and the first shaken one
 *   (at most half a sampling interval off), or null
 */
export function detectContact(
  detector: ContactDetector,
  track: SensorTrack,
  knocked: boolean,
  dtS: number,
): number | null {
  detector.sinceContactS += dtS;
  if (!knocked || track.count < 4 || detector.sinceContactS < REFRACTORY_S) return null;
  if (rateAt(track, track.count - 2) < LEAST_RATE_RAD_S) return null;
  detector.sinceContactS = 0;
  const newest = track.count - 1;
  const mild = accelJerk(track, newest - 1) > MILD_KNOCK_FACTOR * track.usualJerk;
  const shaken = mild ? newest - 1 : newest;
  return (track.tick[shaken & MASK]! + track.tick[(shaken - 1) & MASK]!) / 2;
}

function rateAt(track: SensorTrack, sample: number): number {
  const slot = 3 * (sample & MASK);
  return Math.hypot(track.gyr[slot]!, track.gyr[slot + 1]!, track.gyr[slot + 2]!);
}
