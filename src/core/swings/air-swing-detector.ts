import { SAMPLE_AFTER_GAP, type SensorTrack, TRACK_CAPACITY } from '../orientation/sensor-track.ts';
import { LEAST_TURN_RAD, LEAST_TURNING_RAD_S, TURNED_WITHIN_S } from './contact-detector.ts';
import { forceAt, halfWindow, type TurningSpeed, turningAt, turnOver } from './turning-speed.ts';

/** Two strokes of one player are at least this far apart, seconds: backswing and recovery lie within it. */
export const STROKES_APART_S = 1;
/** A stroke turns the implement at least at this share of the usual speed of a stroke. */
const LEAST_SHARE = 0.45;
/**
 * And so fast a turn of arm and implement pulls at the sensor with well over its weight, mean over 0.2 s, m/s^2:
 * a twirl between the fingers does not.
 */
const LEAST_FORCE_MS2 = 17;
const FORCE_HALF_WINDOW_S = 0.1;
/** Where samples are missing so close to the peak, a contact may be missing too, seconds. */
const GAP_HALF_WINDOW_S = 0.15;

/**
 * Looks for a fast swing a second ago: a peak of the implement's speed of turning, the largest for a second on
 * either side, fast for this player, with the pull of a swing. It costs a comparison for most samples.
 * Whether a contact lies near is for the caller to say.
 * @param track the implement's, newest sample included @param turning of the same samples
 * @param usualRadS usual speed of turning of this player's strokes, rad/s; 0 while unknown
 * @returns absolute number of the sample at the peak, else -1
 */
export function findAirSwing(track: SensorTrack, turning: TurningSpeed, usualRadS: number): number {
  const apart = Math.round(STROKES_APART_S / track.intervalS);
  const end = track.count - 1 - apart;
  if (end < apart) return -1;
  const speed = turningAt(turning, end);
  if (speed < Math.max(LEAST_TURNING_RAD_S, LEAST_SHARE * usualRadS)) return -1;
  if (speed <= turningAt(turning, end - 1) || !isLargest(turning, end, apart)) return -1;
  // the mean over a window belongs to its middle
  const peak = end - halfWindow(track);
  const isSwing =
    turnAround(track, peak) >= LEAST_TURN_RAD && meanForce(track, peak) >= LEAST_FORCE_MS2;
  return isSwing && isWhole(track, peak) ? peak : -1;
}

function isLargest(turning: TurningSpeed, sample: number, apart: number): boolean {
  const speed = turningAt(turning, sample);
  for (let n = sample - apart; n <= sample + apart; n++) {
    if (turningAt(turning, n) > speed) return false;
  }
  return true;
}

function isWhole(track: SensorTrack, sample: number): boolean {
  const half = Math.round(GAP_HALF_WINDOW_S / track.intervalS);
  for (let n = sample - half; n <= sample + half; n++) {
    if ((track.flags[n & (TRACK_CAPACITY - 1)]! & SAMPLE_AFTER_GAP) !== 0) return false;
  }
  return true;
}

function turnAround(track: SensorTrack, sample: number): number {
  const half = Math.round(TURNED_WITHIN_S / 2 / track.intervalS);
  return turnOver(track, sample - half, sample + half);
}

function meanForce(track: SensorTrack, sample: number): number {
  const half = Math.round(FORCE_HALF_WINDOW_S / track.intervalS);
  let sum = 0;
  for (let n = sample - half; n <= sample + half; n++) sum += forceAt(track, n);
  return sum / (2 * half + 1);
}
