import { copy3, copy4 } from '../maths/columns.ts';
import { type Quaternion, quaternion, slerpRows } from '../maths/quaternion.ts';
import { type Vector3, vector3 } from '../maths/vector.ts';
import {
  createFilter,
  type FilterMethod,
  type OrientationFilter,
  restartFilter,
  stepFilter,
  subtractBias,
} from './filter.ts';

/** What is special about a sample. Bits of a flags column. */
export const SAMPLE_CLIPPED = 1;
/** Within 100 ms after a knock: the accelerometer says nothing about the arm. */
export const SAMPLE_IN_SHOCK = 2;
/** Samples are missing just before this one. */
export const SAMPLE_AFTER_GAP = 4;
/** A knock follows so closely that the angular acceleration already contains it; readings only. */
export const SAMPLE_BEFORE_SHOCK = 8;

/** One sensor's samples with their orientation: columns in a ring, newest at `count - 1`. */
export interface SensorTrack {
  readonly filter: OrientationFilter;
  readonly intervalS: number;
  /** Below this no jerk is a knock, m/s^2. */
  readonly leastKnockJerk: number;
  /** Samples taken in ever. */
  count: number;
  /** Unwrapped ticks, shape (capacity). */
  readonly tick: Float64Array;
  /** rad/s without the estimated bias, sensor frame, shape (3 capacity). */
  readonly gyr: Float64Array;
  /** m/s^2, sensor frame, shape (3 capacity). */
  readonly acc: Float64Array;
  /** qEarthFromSensor, shape (4 capacity). */
  readonly q: Float64Array;
  readonly flags: Uint8Array;
  /** Usual size of {@link accelJerk} just now, m/s^2. */
  usualJerk: number;
  /** Seconds left of the current shock window. */
  shockLeftS: number;
  /** How hard the ringing of the current shock still is, m/s^2: only a much harder knock is a new one. */
  ringing: number;
  /** Samples in a row without a gap. */
  unbroken: number;
}

/** Power of two, so that the ring index is a mask: 20 s at 400 Hz, longer than any wait for packets sent again. */
export const TRACK_CAPACITY = 8192;
const MASK = TRACK_CAPACITY - 1;

/**
 * A knock is a jerk above this and above a multiple of what is usual just now. For samples 5 ms apart;
 * smooth movement looks rougher the further they are apart.
 */
const KNOCK_JERK_MS2 = 28;
const KNOCK_JERK_INTERVAL_S = 0.005;
const KNOCK_FACTOR = 4;
/** Over this time the usual jerk is averaged; knocks are left out of it. */
const USUAL_TAU_S = 0.1;
const SHOCK_S = 0.1;
/** Ringing dies away like this. Its jerk can be four times its first step, so another knock must exceed that. */
const RINGING_TAU_S = 0.03;
const HARDER_FACTOR = 6;

/** @param intervalS nominal sampling interval, seconds */
export function createTrack(method: FilterMethod, intervalS: number): SensorTrack {
  return {
    filter: createFilter(method, intervalS),
    intervalS,
    leastKnockJerk: KNOCK_JERK_MS2 * Math.sqrt(intervalS / KNOCK_JERK_INTERVAL_S),
    count: 0,
    tick: new Float64Array(TRACK_CAPACITY),
    gyr: new Float64Array(3 * TRACK_CAPACITY),
    acc: new Float64Array(3 * TRACK_CAPACITY),
    q: new Float64Array(4 * TRACK_CAPACITY),
    flags: new Uint8Array(TRACK_CAPACITY),
    usualJerk: 2,
    shockLeftS: 0,
    ringing: 0,
    unbroken: 0,
  };
}

/** A turn over a longer silence than this cannot be guessed from the samples around it, seconds. */
export const LONGEST_BRIDGE_S = 0.5;

/**
 * Takes in one sample.
 * @param tick unwrapped @param dtS seconds since the previous sample by its own ticks
 * @param gyr rad/s @param acc m/s^2; sensor frame, shape (3)
 * @returns true when a knock begins with this sample
 */
export function addSample(
  track: SensorTrack,
  tick: number,
  dtS: number,
  gyr: Vector3,
  acc: Vector3,
  clipped: boolean,
  afterGap: boolean,
): boolean {
  const slot = track.count & MASK;
  copy3(track.acc, 3 * slot, acc);
  track.unbroken = afterGap ? 1 : track.unbroken + 1;
  const knocked = updateShock(track, dtS);
  const inShock = track.shockLeftS > 0;
  const isBridged = dtS <= LONGEST_BRIDGE_S;
  if (!isBridged) restartFilter(track.filter);
  const stepS = isBridged ? dtS : track.intervalS;
  const q = stepFilter(track.filter, gyr, acc, stepS, !inShock);
  track.tick[slot] = tick;
  copy3(track.gyr, 3 * slot, gyr);
  subtractBias(track.filter, track.gyr, 3 * slot);
  copy4(track.q, 4 * slot, q);
  track.flags[slot] =
    (clipped ? SAMPLE_CLIPPED : 0) |
    (inShock ? SAMPLE_IN_SHOCK : 0) |
    (afterGap ? SAMPLE_AFTER_GAP : 0);
  track.count++;
  return knocked;
}

/**
 * How badly the three latest accelerations fail to lie on a line: |a_n - 2 a_(n-1) + a_(n-2)|, m/s^2. A swing
 * is smooth at the sampling rate, a knock is not.
 * @param sample absolute number of the newest of the three, at least 2
 */
export function accelJerk(track: SensorTrack, sample: number): number {
  const n = 3 * (sample & MASK);
  const m = 3 * ((sample - 1) & MASK);
  const l = 3 * ((sample - 2) & MASK);
  const { acc } = track;
  let square = 0;
  for (let i = 0; i < 3; i++) square += (acc[n + i]! - 2 * acc[m + i]! + acc[l + i]!) ** 2;
  return Math.sqrt(square);
}

/** Looks at the sample just stored in `acc`, before it counts. */
function updateShock(track: SensorTrack, dtS: number): boolean {
  track.shockLeftS = Math.max(0, track.shockLeftS - dtS);
  if (track.unbroken < 3) return false;
  const jerk = accelJerk(track, track.count);
  track.ringing = track.shockLeftS > 0 ? track.ringing * Math.exp(-dtS / RINGING_TAU_S) : 0;
  const isKnock =
    jerk >
    Math.max(track.leastKnockJerk, KNOCK_FACTOR * track.usualJerk, HARDER_FACTOR * track.ringing);
  if (isKnock) track.shockLeftS = SHOCK_S;
  // Only a knock rings: a mild first sample of it must not hide the next.
  if (track.shockLeftS > 0) track.ringing = Math.max(track.ringing, jerk);
  else track.usualJerk += (jerk - track.usualJerk) * Math.min(1, dtS / USUAL_TAU_S);
  return isKnock;
}

/** Between rows a and b of a column. */
function mix3(out: Vector3, column: Float64Array, a: number, b: number, u: number): void {
  const v = 1 - u;
  out[0] = v * column[3 * a]! + u * column[3 * b]!;
  out[1] = v * column[3 * a + 1]! + u * column[3 * b + 1]!;
  out[2] = v * column[3 * a + 2]! + u * column[3 * b + 2]!;
}

/** A sensor's signals at one instant between two samples. */
export interface TrackReading {
  readonly qEarthFromSensor: Quaternion;
  /** rad/s, rad/s^2 and m/s^2, sensor frame, shape (3). */
  readonly gyr: Vector3;
  readonly gyrRate: Vector3;
  readonly acc: Vector3;
  /** Flags of both neighbours together. */
  flags: number;
  /** Seconds between the two neighbours. */
  spacingS: number;
}

/** Room for a reading. */
export function createReading(): TrackReading {
  return {
    qEarthFromSensor: quaternion(),
    gyr: vector3(),
    gyrRate: vector3(),
    acc: vector3(),
    flags: 0,
    spacingS: 0,
  };
}

/** Place in the columns of an absolute sample number. */
export function slotOfSample(sample: number): number {
  return sample & MASK;
}

/** Answers of {@link readTrack} for ticks it cannot read. */
export const BEYOND_TRACK = -1;
export const BEFORE_TRACK = -2;

/**
 * Reads a track between samples: orientation by slerp, the rest linearly, angular acceleration from
 * central differences over two samples on either side.
 * @param tick unwrapped, not older than the ring
 * @param from where to start searching (an absolute sample number, e.g. the last answer)
 * @returns the absolute number of the sample at or before `tick`; BEYOND_TRACK when the track does not reach
 *   so far yet, BEFORE_TRACK when it never will, `out` being unchanged then
 */
export function readTrack(
  track: SensorTrack,
  tick: number,
  tickHz: number,
  from: number,
  out: TrackReading,
): number {
  const oldest = Math.max(1, track.count - TRACK_CAPACITY + 2);
  // a restarted sensor has a shorter track than the last answer knew
  let k = Math.min(Math.max(oldest, from), Math.max(oldest, track.count - 1));
  while (k > oldest && track.tick[k & MASK]! > tick) k--;
  while (k + 1 < track.count && track.tick[(k + 1) & MASK]! <= tick) k++;
  if (track.count > oldest && track.tick[oldest & MASK]! > tick) return BEFORE_TRACK;
  if (k + 2 >= track.count) return BEYOND_TRACK;
  const a = k & MASK;
  const b = (k + 1) & MASK;
  const spacing = track.tick[b]! - track.tick[a]!;
  const u = (tick - track.tick[a]!) / spacing;
  const before = (k - 1) & MASK;
  const after = (k + 2) & MASK;
  mix3(out.gyr, track.gyr, a, b, u);
  mix3(out.acc, track.acc, a, b, u);
  const { gyr } = track;
  const rateA = ((1 - u) * tickHz) / (track.tick[b]! - track.tick[before]!);
  const rateB = (u * tickHz) / (track.tick[after]! - track.tick[a]!);
  for (let i = 0; i < 3; i++) {
    out.gyrRate[i] =
      rateA * (gyr[3 * b + i]! - gyr[3 * before + i]!) +
      rateB * (gyr[3 * after + i]! - gyr[3 * a + i]!);
  }
  slerpRows(out.qEarthFromSensor, track.q, 4 * a, track.q, 4 * b, u);
  // A gap before sample `a` is no gap between `a` and `b`.
  out.flags = (track.flags[a]! & ~SAMPLE_AFTER_GAP) | track.flags[b]!;
  if ((track.flags[after]! & SAMPLE_IN_SHOCK) !== 0) out.flags |= SAMPLE_BEFORE_SHOCK;
  out.spacingS = spacing / tickHz;
  return k;
}
