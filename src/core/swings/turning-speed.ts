import { type SensorTrack, TRACK_CAPACITY } from '../orientation/sensor-track.ts';

/**
 * How fast one sensor turns, mean size of the angular velocity over 0.1 s: the jolt of a shock hardly shows
 * in it, nor does a flick of the wrist. Plain data.
 */
export interface TurningSpeed {
  /** Sum over the samples of the window, rad/s, and how many those are: fewer after a gap. */
  sum: number;
  taken: number;
  /** Mean over the window that ends with each sample, rad/s, in a ring of shape (capacity). */
  readonly meanRadS: Float64Array;
}

/** Power of two, so that the ring index is a mask: 2.5 s at 800 Hz. */
const CAPACITY = 2048;
const HALF_WINDOW_S = 0.05;

/** Nothing seen yet. */
export function createTurningSpeed(): TurningSpeed {
  return { sum: 0, taken: 0, meanRadS: new Float64Array(CAPACITY) };
}

/** Samples from the middle of a window to its end. */
export function halfWindow(track: SensorTrack): number {
  return Math.round(HALF_WINDOW_S / track.intervalS);
}

/** Takes in the newest sample of a track; call it for each. */
export function noteTurning(turning: TurningSpeed, track: SensorTrack): void {
  const newest = track.count - 1;
  const window = 2 * halfWindow(track) + 1;
  if (track.unbroken === 1) {
    turning.sum = 0;
    turning.taken = 0;
  }
  turning.sum += rateAt(track, newest);
  if (turning.taken === window) turning.sum -= rateAt(track, newest - window);
  else turning.taken++;
  turning.meanRadS[newest & (CAPACITY - 1)] = turning.sum / turning.taken;
}

/**
 * Mean speed of turning over the window that ends with a sample, rad/s.
 * @param sample absolute number, one of the newest 2048
 */
export function turningAt(turning: TurningSpeed, sample: number): number {
  return turning.meanRadS[sample & (CAPACITY - 1)]!;
}

/** Speed of turning at one sample, rad/s. @param sample absolute number */
export function rateAt({ gyr }: SensorTrack, sample: number): number {
  const slot = 3 * (sample & (TRACK_CAPACITY - 1));
  return Math.sqrt(gyr[slot]! ** 2 + gyr[slot + 1]! ** 2 + gyr[slot + 2]! ** 2);
}

/** Size of the specific force at one sample, m/s^2. @param sample absolute number */
export function forceAt({ acc }: SensorTrack, sample: number): number {
  const slot = 3 * (sample & (TRACK_CAPACITY - 1));
  return Math.sqrt(acc[slot]! ** 2 + acc[slot + 1]! ** 2 + acc[slot + 2]! ** 2);
}

/**
 * Size of the summed angular velocity, rad, sensor frame: going to and fro cancels, and unlike the angle between two
 * orientations it never comes round to nothing in a fast swing.
 * @param after, to absolute numbers: sums the samples after the first up to the second
 */
export function turnOver({ gyr, intervalS }: SensorTrack, after: number, to: number): number {
  let x = 0;
  let y = 0;
  let z = 0;
  for (let n = after + 1; n <= to; n++) {
    const slot = 3 * (n & (TRACK_CAPACITY - 1));
    x += gyr[slot]!;
    y += gyr[slot + 1]!;
    z += gyr[slot + 2]!;
  }
  return intervalS * Math.sqrt(x * x + y * y + z * z);
}
