import { type SensorTrack, TRACK_CAPACITY } from '../orientation/sensor-track.ts';
import { findAirSwing, STROKES_APART_S } from './air-swing-detector.ts';
import {
  type ContactDetector,
  createContactDetector,
  detectContact,
  ON_GROUND_S,
} from './contact-detector.ts';
import {
  createTurningSpeed,
  halfWindow,
  noteTurning,
  type TurningSpeed,
  turningAt,
} from './turning-speed.ts';

/** A stroke of the implement: a contact, or a fast swing at nothing. Plain data. */
export interface Stroke {
  /** Unwrapped tick of the contact, or of the fastest turning of an air swing. */
  readonly tick: number;
  readonly isAir: boolean;
}

/** Watches the implement sensor for strokes. Plain data. */
export interface StrokeDetector {
  readonly turning: TurningSpeed;
  readonly contacts: ContactDetector;
  /** Usual speed of turning of this player's strokes, mean over 0.1 s, rad/s; 0 before the first. */
  usualRadS: number;
}

/** Weight of the newest stroke in what is usual. */
const NEWEST_WEIGHT = 0.2;

/** Nothing has happened yet. */
export function createStrokeDetector(): StrokeDetector {
  return { turning: createTurningSpeed(), contacts: createContactDetector(), usualRadS: 0 };
}

/**
 * Looks at the newest sample of the implement; to be called for every one. Allocates nothing but a stroke.
 * Bounces, taps, knocks, twirls and a dropped implement are no strokes.
 * @param track the implement's, newest sample included @param knocked a knock begins with that sample
 * @param dtS seconds since the sample before
 * @returns a contact 30 ms after it, an air swing a second after it, else null
 * Checked: tests/swings/thousand-swings.test.ts, tests/swings/table-tennis.test.ts
 */
export function detectStroke(
  detector: StrokeDetector,
  track: SensorTrack,
  knocked: boolean,
  dtS: number,
): Stroke | null {
  const { turning, contacts } = detector;
  noteTurning(turning, track);
  const contactTick = detectContact(contacts, track, turning, knocked, dtS);
  if (contactTick !== null) {
    noteStroke(detector, turningAt(turning, track.count - 1));
    return { tick: contactTick, isAir: false };
  }
  const peak = findAirSwing(track, turning, detector.usualRadS);
  if (peak < 0) return null;
  const agoS = (track.count - 1 - peak) * track.intervalS;
  if (contacts.sinceContactS < agoS + STROKES_APART_S) return null;
  if (contacts.sinceFallS < agoS + ON_GROUND_S) return null;
  noteStroke(detector, turningAt(turning, peak + halfWindow(track)));
  return { tick: track.tick[peak & (TRACK_CAPACITY - 1)]!, isAir: true };
}

function noteStroke(detector: StrokeDetector, speedRadS: number): void {
  const { usualRadS } = detector;
  detector.usualRadS =
    usualRadS === 0 ? speedRadS : usualRadS + NEWEST_WEIGHT * (speedRadS - usualRadS);
}
