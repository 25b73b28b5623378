import {
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
import { cubicBetween, type EndParabola, fitEndParabola } from '../maths/polynomial.ts';
import { type ArmFrame, type ReachSeries, reachSeries } from './reach-series.ts';
import { SWING_POINTS, type Swing, type VoidReason } from './swing.ts';
import { findSwingStart, speedAt } from './swing-start.ts';

/** A contact as found on the implement sensor, host time with its standard error. */
export interface Contact {
  readonly timeUs: number;
  readonly standardErrorUs: number;
}

/** Instants this close before contact may already feel it on another sensor's clock, microseconds. */
const CONTACT_MARGIN_US = 2000;
/** The last clean instants (30 ms) carry the reach on to contact. */
const EXTRAPOLATED_FROM = 7;
/** Further than this from the last clean instant nothing can be said of contact, microseconds. */
const LONGEST_EXTRAPOLATION_US = 25_000;
/** Instants before the start that cubic interpolation needs. */
const LEAD = 2;
/** A racket that is carried or dropped knocks too; in a swing the forearm turns at least this fast, rad/s. */
const LEAST_FOREARM_RATE_RAD_S = 1.5;
const FOREARM_WINDOW_US = 250_000;

/** Whether the arm, not the implement alone, moved before a contact; where data are missing it may have. */
export function armStruck(timeline: ArmTimeline, contactUs: number): boolean {
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
 * One swing from its contact: start, reach curve over normalised time, reach at contact.
 * Reach at contact is never read from the shock: a parabola through the last clean 30 ms is carried on.
 * @param frame or why there is none
 * @returns the swing; what cannot be known is NaN and `voidReason` says why
 */
export function analyseSwing(
  timeline: ArmTimeline,
  contact: Contact,
  frame: ArmFrame | 'not-zeroed' | 'unsettled',
  index: number,
): Swing {
  const clean = lastCleanInstant(timeline, contact.timeUs);
  if (clean === null) return voidSwing('sensor-gap', contact.timeUs, index);
  const startUs = findSwingStart(timeline, clean);
  if (startUs === null) return voidSwing('no-forward-swing', contact.timeUs, index);
  const first = instantAt(timeline, startUs) - LEAD;
  if (first < oldestInstant(timeline) || has(timeline, first, clean, GRID_GAP) > 0) {
    return voidSwing('sensor-gap', contact.timeUs, index);
  }
  if (typeof frame === 'string') return voidSwing(frame, contact.timeUs, index);
  const series = reachSeries(timeline, first, clean, frame);
  const curve = normaliseSwing(timeline, series, startUs, contact);
  const at = (column: Float64Array) => {
    const from = Math.min(EXTRAPOLATED_FROM, column.length);
    return beyond(fitEndParabola(column, from), stepsAfterClean(timeline, clean, contact.timeUs));
  };
  const [x, y, z] = [at(series.x), at(series.y), at(series.z)];
  let peak = 0;
  for (let n = first + LEAD; n <= clean; n++) peak = Math.max(peak, speedAt(timeline, n));
  return {
    index,
    contactTimeUs: contact.timeUs,
    startTimeUs: startUs,
    voidReason: null,
    reachM: curve.reachM[SWING_POINTS - 1]!,
    reachStandardErrorM: Math.hypot(
      curve.noiseM[SWING_POINTS - 1]!,
      series.systematicM[series.systematicM.length - 1]!,
    ),
    reachCurveM: curve.reachM,
    reachCurveNoiseM: curve.noiseM,
    horizontalReachM: Math.hypot(x, y),
    frontalReachM: Math.hypot(y, z),
    sagittalReachM: Math.hypot(x, z),
    peakImplementRateRadS: peak,
    contactImplementRateRadS: speedAt(timeline, clean),
    clippedSamples: has(timeline, first + LEAD, clean, GRID_CLIPPED),
    interpolatedSamples: has(timeline, first + LEAD, clean, GRID_INTERPOLATED),
  };
}

/** A swing without reach. */
function voidSwing(voidReason: VoidReason, contactTimeUs: number, index: number): Swing {
  const nothing = () => new Float64Array(SWING_POINTS).fill(Number.NaN);
  return {
    index,
    contactTimeUs,
    startTimeUs: contactTimeUs,
    voidReason,
    reachM: Number.NaN,
    reachStandardErrorM: Number.NaN,
    reachCurveM: nothing(),
    reachCurveNoiseM: nothing(),
    horizontalReachM: Number.NaN,
    frontalReachM: Number.NaN,
    sagittalReachM: Number.NaN,
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

function has(timeline: ArmTimeline, first: number, last: number, flag: number): number {
  let count = 0;
  for (let n = first; n <= last; n++) if ((timeline.flags[slotOf(n)]! & flag) !== 0) count++;
  return count;
}

function stepsAfterClean(timeline: ArmTimeline, clean: number, timeUs: number): number {
  return (timeUs - timeline.timeUs[slotOf(clean)]!) / GRID_STEP_US;
}

function beyond(end: EndParabola, steps: number): number {
  return end.value + end.slope * steps + end.halfCurvature * steps * steps;
}

/** Reach over 0..100 %, with its noise; timing enters where the reach changes. */
function normaliseSwing(
  timeline: ArmTimeline,
  series: ReachSeries,
  startUs: number,
  contact: Contact,
): { reachM: Float64Array; noiseM: Float64Array } {
  const reachM = new Float64Array(SWING_POINTS);
  const noiseM = new Float64Array(SWING_POINTS);
  const last = series.reachM.length - 1;
  const end = fitEndParabola(series.reachM, Math.min(EXTRAPOLATED_FROM, last + 1));
  const firstUs = timeline.timeUs[slotOf(series.first)]!;
  for (let percent = 0; percent < SWING_POINTS; percent++) {
    const share = percent / (SWING_POINTS - 1);
    const timeUs = startUs + (contact.timeUs - startUs) * share;
    const position = (timeUs - firstUs) / GRID_STEP_US;
    const k = Math.floor(position);
    const slope = slopeAt(series.reachM, end, position);
    if (k + 2 <= last) {
      const [y0, y1, y2, y3] = [k - 1, k, k + 1, k + 2].map((i) => series.reachM[i]!);
      reachM[percent] = cubicBetween(y0!, y1!, y2!, y3!, position - k);
    } else {
      reachM[percent] = beyond(end, position - last);
    }
    // The curve is tied to contact: an error of its time moves late points fully, early ones hardly.
    const timing = (slope * share * contact.standardErrorUs) / GRID_STEP_US;
    const pose = series.noiseM[Math.min(last, Math.max(0, Math.round(position)))]!;
    noiseM[percent] = Math.hypot(pose, timing);
  }
  return { reachM, noiseM };
}

/** Change of reach per grid step. */
function slopeAt(reachM: Float64Array, end: EndParabola, position: number): number {
  const last = reachM.length - 1;
  const k = Math.round(position);
  if (k + 1 > last) return end.slope + 2 * end.halfCurvature * (position - last);
  return (reachM[k + 1]! - reachM[Math.max(0, k - 1)]!) / 2;
}
