import { copy3, copy4 } from '../maths/columns.ts';
import { norm, type Vector3 } from '../maths/vector.ts';

/** One grid instant has samples of all sensors right around it, or these bits say what is missing. */
export const GRID_CLIPPED = 1;
export const GRID_IN_SHOCK = 2;
/** Between samples further apart than usual but no more than 25 ms. */
export const GRID_INTERPOLATED = 4;
/** Between samples further apart than 25 ms, or none: no pose here. */
export const GRID_GAP = 8;
/** Neighbouring samples further apart than this are a gap, seconds. */
export const LONGEST_INTERPOLATION_S = 0.025;

/** Grid step: 200 Hz. */
export const GRID_STEP_US = 5000;
/** Instants kept: 10 s. A power of two, so that the ring index is a mask. */
export const GRID_CAPACITY = 2048;
/** Numbers of one instant of {@link ArmTimeline.q}. */
export const ARM_ROW = 12;
const MASK = GRID_CAPACITY - 1;

/** The three sensors on one timeline: columns in a ring, newest at `count - 1`. Plain data. */
export interface ArmTimeline {
  count: number;
  /** Host time of the next instant, microseconds; NaN before the first. */
  nextUs: number;
  readonly timeUs: Float64Array;
  /** qEarthFromSensor of the three sensors, each in its own earth frame, shape (ARM_ROW capacity). */
  readonly q: Float64Array;
  /** Angular velocity of the implement in its earth frame, rad/s, shape (3 capacity). */
  readonly implementRate: Float64Array;
  /** Speed of turning of each sensor, rad/s, shape (3 capacity). */
  readonly turnRateRadS: Float64Array;
  readonly flags: Uint8Array;
}

/** Empty timeline. */
export function createTimeline(): ArmTimeline {
  return {
    count: 0,
    nextUs: Number.NaN,
    timeUs: new Float64Array(GRID_CAPACITY),
    q: new Float64Array(ARM_ROW * GRID_CAPACITY),
    implementRate: new Float64Array(3 * GRID_CAPACITY),
    turnRateRadS: new Float64Array(3 * GRID_CAPACITY),
    flags: new Uint8Array(GRID_CAPACITY),
  };
}

/**
 * Appends one instant at `nextUs`.
 * @param q orientations, three of shape (4) @param gyr rates in the sensor frames, three of shape (3)
 * @param implementRate rate of the implement in its earth frame, shape (3)
 */
export function appendInstant(
  timeline: ArmTimeline,
  q: readonly Float64Array[],
  gyr: readonly Vector3[],
  implementRate: Vector3,
  flags: number,
): void {
  const { turnRateRadS } = timeline;
  const slot = timeline.count & MASK;
  timeline.timeUs[slot] = timeline.nextUs;
  for (let k = 0; k < 3; k++) {
    copy4(timeline.q, ARM_ROW * slot + 4 * k, q[k]!);
    turnRateRadS[3 * slot + k] = norm(gyr[k]!);
  }
  copy3(timeline.implementRate, 3 * slot, implementRate);
  timeline.flags[slot] = flags;
  timeline.count++;
  timeline.nextUs += GRID_STEP_US;
}

/** Place in the columns of an absolute instant number. */
export function slotOf(instant: number): number {
  return instant & MASK;
}

/** Oldest absolute instant number still kept. */
export function oldestInstant(timeline: ArmTimeline): number {
  return Math.max(0, timeline.count - GRID_CAPACITY);
}

/**
 * Last instant at or before a host time, as absolute number; may be older than the ring.
 * The grid is regular, so no search is needed.
 */
export function instantAt(timeline: ArmTimeline, hostTimeUs: number): number {
  const newest = timeline.count - 1;
  const back = Math.ceil((timeline.timeUs[newest & MASK]! - hostTimeUs) / GRID_STEP_US);
  return newest - Math.max(0, back);
}
