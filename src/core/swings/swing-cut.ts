import {
  ARM_ROW,
  type ArmTimeline,
  GRID_CLIPPED,
  GRID_GAP,
  GRID_IN_SHOCK,
  GRID_INTERPOLATED,
  GRID_STEP_US,
  instantAt,
  oldestInstant,
  slotOf,
} from '../arm/arm-timeline.ts';
import { createGyroTilt, type GyroTilt, removeGyroTilt } from '../arm/gyro-tilt.ts';
import { findSwingStart, speedAt } from './swing-start.ts';

/** A contact as found on the implement sensor, host time with its standard error; of an air swing, its fastest turning. */
export interface Contact {
  readonly timeUs: number;
  readonly standardErrorUs: number;
}

/**
 * What one swing left on the timeline before any zeroing or heading is applied, so that it can be read again
 * when those are known better. Plain data.
 */
export interface SwingCut {
  readonly contact: Contact;
  /** Why there is nothing to read; null when there is. */
  readonly fault: 'sensor-gap' | 'no-forward-swing' | 'air-swing' | null;
  /** Start of the forward swing, host time; that of contact when there is none. */
  readonly startUs: number;
  /** Host time of the first row; rows are GRID_STEP_US apart, the last is the last clean one before contact. */
  readonly firstUs: number;
  /** qEarthFromSensor of the three sensors, shape (rows, 3, 4); none when data are missing or nothing was met. */
  readonly q: Float64Array;
  /** Of the last row: what the gyroscopes' errors did to the verticals. */
  readonly gyroTilts: ArmTilts;
  /** Fastest turning of the implement during the swing, and at the last clean instant, rad/s. */
  readonly peakImplementRateRadS: number;
  readonly contactImplementRateRadS: number;
  /** Instants between start and contact that clipped or were interpolated. */
  readonly clippedSamples: number;
  readonly interpolatedSamples: number;
}

type ArmTilts = readonly [GyroTilt, GyroTilt, GyroTilt];

/** Instants this close before contact may already feel it on another sensor's clock, microseconds. */
const CONTACT_MARGIN_US = 2000;
/** Further than this from the last clean instant nothing can be said of contact, microseconds. */
export const LONGEST_EXTRAPOLATION_US = 25_000;
/** Instants before the start that cubic interpolation needs. */
export const LEAD = 2;
/** A swing shorter than this is kept with what went before, for the milliseconds before contact. */
const LEAST_KEPT_US = 310_000;
/** A racket that is carried or dropped knocks too; in a swing the forearm turns at least this fast, rad/s. */
const LEAST_FOREARM_RATE_RAD_S = 1.5;
const FOREARM_WINDOW_US = 250_000;

/** Whether the arm, not the implement alone, moved before a stroke; where data are missing it may have. */
export function armMoved(timeline: ArmTimeline, contactUs: number): boolean {
  const last = instantAt(timeline, contactUs);
  const first = Math.max(oldestInstant(timeline), last - FOREARM_WINDOW_US / GRID_STEP_US);
  let fastest = 0;
  for (let n = first; n <= last; n++) {
    if ((timeline.flags[slotOf(n)]! & GRID_GAP) !== 0) return true;
    fastest = Math.max(fastest, timeline.turnRateRadS[3 * slotOf(n) + 1]!);
  }
  return fastest >= LEAST_FOREARM_RATE_RAD_S;
}

/**
 * Cuts one swing out of the timeline, from some instants before its start to the last clean one.
 * @param gyroTilts of the newest instant
 */
export function cutSwing(timeline: ArmTimeline, gyroTilts: ArmTilts, contact: Contact): SwingCut {
  const clean = lastCleanInstant(timeline, contact.timeUs);
  if (clean === null) return emptyCut(contact, 'sensor-gap');
  const foundUs = findSwingStart(timeline, clean);
  // without a start the time before contact is kept all the same: the coach may see one
  const startUs = foundUs ?? contact.timeUs;
  const lead = Math.min(instantAt(timeline, startUs), clean) - LEAD;
  if (lead < oldestInstant(timeline) || count(timeline, lead, clean, GRID_GAP) > 0) {
    return emptyCut(contact, 'sensor-gap');
  }
  const first = firstKept(timeline, lead, contact.timeUs);
  const q = new Float64Array(ARM_ROW * (clean - first + 1));
  let peak = 0;
  for (let n = first; n <= clean; n++) {
    const at = ARM_ROW * slotOf(n);
    q.set(timeline.q.subarray(at, at + ARM_ROW), ARM_ROW * (n - first));
    if (n >= lead + LEAD) peak = Math.max(peak, speedAt(timeline, n));
  }
  return {
    contact,
    fault: foundUs === null ? 'no-forward-swing' : null,
    startUs,
    firstUs: timeline.timeUs[slotOf(first)]!,
    q,
    gyroTilts: tiltsAt(clean, timeline, gyroTilts),
    peakImplementRateRadS: peak,
    contactImplementRateRadS: speedAt(timeline, clean),
    clippedSamples: count(timeline, lead + LEAD, clean, GRID_CLIPPED),
    interpolatedSamples: count(timeline, lead + LEAD, clean, GRID_INTERPOLATED),
  };
}

/** What an air swing leaves: when it was. The samples stay in the set's file. */
export function airCut(instant: Contact): SwingCut {
  return emptyCut(instant, 'air-swing');
}

/** Back from the newest instant, which lies in the shock. */
function tiltsAt(instant: number, timeline: ArmTimeline, newest: ArmTilts): ArmTilts {
  const tilts: ArmTilts = [newest[0].slice(), newest[1].slice(), newest[2].slice()];
  for (let n = timeline.count - 1; n > instant; n--) {
    const to = ARM_ROW * slotOf(n);
    const from = ARM_ROW * slotOf(n - 1);
    for (const k of [0, 1, 2] as const) {
      removeGyroTilt(tilts[k], timeline.q, from + 4 * k, to + 4 * k);
    }
  }
  return tilts;
}

function emptyCut(contact: Contact, fault: SwingCut['fault']): SwingCut {
  return {
    contact,
    fault,
    startUs: contact.timeUs,
    firstUs: contact.timeUs,
    q: new Float64Array(0),
    gyroTilts: [createGyroTilt(), createGyroTilt(), createGyroTilt()],
    peakImplementRateRadS: Number.NaN,
    contactImplementRateRadS: Number.NaN,
    clippedSamples: 0,
    interpolatedSamples: 0,
  };
}

function lastCleanInstant(timeline: ArmTimeline, contactUs: number): number | null {
  const oldest = oldestInstant(timeline);
  for (let n = instantAt(timeline, contactUs - CONTACT_MARGIN_US); n >= oldest; n--) {
    if (contactUs - timeline.timeUs[slotOf(n)]! > LONGEST_EXTRAPOLATION_US) return null;
    if ((timeline.flags[slotOf(n)]! & (GRID_IN_SHOCK | GRID_GAP)) === 0) return n;
  }
  return null;
}

/** From the lead of a short swing back as far as is kept of the time before, or to the first gap there. */
function firstKept(timeline: ArmTimeline, lead: number, contactUs: number): number {
  const wanted = Math.max(oldestInstant(timeline), instantAt(timeline, contactUs - LEAST_KEPT_US));
  let first = lead;
  while (first > wanted && (timeline.flags[slotOf(first - 1)]! & GRID_GAP) === 0) first--;
  return first;
}

function count(timeline: ArmTimeline, first: number, last: number, flag: number): number {
  let n = 0;
  for (let i = first; i <= last; i++) if ((timeline.flags[slotOf(i)]! & flag) !== 0) n++;
  return n;
}
