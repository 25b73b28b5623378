import {
  cubicBetween,
  type EndParabola,
  endCubicSlope,
  fitEndParabola,
} from '../maths/polynomial.ts';
import { type ArmFrame, type SegmentSeries, segmentSeries } from './segment-series.ts';
import {
  BEFORE_CONTACT_ROWS,
  BEFORE_CONTACT_STEP_S,
  SWING_POINTS,
  type Swing,
  type SwingCurves,
  type VoidReason,
} from './swing.ts';
import type { Contact, SwingCut } from './swing-cut.ts';

/** One swing read: its numbers, and its curves unless it is void. */
export interface SwingReading {
  readonly swing: Swing;
  readonly curves: SwingCurves | null;
}

/** The last clean instants (30 ms) carry the reach on to contact. */
const EXTRAPOLATED_FROM = 7;
/** And these (40 ms) the speed, which levels off just there. */
const SPEED_FROM = 9;

/**
 * Reads one swing: reach curve over normalised time, reach at contact.
 * Reach at contact is never read from the shock: a parabola through the last clean 30 ms is carried on.
 * @param frame or why there is none
 * @returns the swing; what cannot be known is NaN and `voidReason` says why
 */
export function readSwing(
  cut: SwingCut,
  frame: ArmFrame | Exclude<VoidReason, NonNullable<SwingCut['fault']>>,
  index: number,
): SwingReading {
  if (cut.fault !== null) return voidReading(cut.fault, cut, index);
  if (typeof frame === 'string') return voidReading(frame, cut, index);
  const series = segmentSeries(cut, frame);
  const curves = readCurves(cut, series, frame);
  const ends = series.reachVectorM.map((column) => columnEnd(column));
  const steps = (cut.contact.timeUs - endUs(series)) / series.stepUs;
  const [x, y, z] = ends.map((end) => beyond(end, steps)) as [number, number, number];
  const speeds = series.reachVectorM.map(
    (column) => endSlope(column, steps) / (series.stepUs * 1e-6),
  );
  const systematicM = series.systematicM[series.systematicM.length - 1]!;
  const swing: Swing = {
    index,
    contactTimeUs: cut.contact.timeUs,
    startTimeUs: cut.startUs,
    voidReason: null,
    reachM: curves.reachCurveM[SWING_POINTS - 1]!,
    reachStandardErrorM: Math.hypot(curves.reachCurveNoiseM[SWING_POINTS - 1]!, systematicM),
    horizontalReachM: Math.hypot(x, y),
    frontalReachM: frame.courtHeadingKnown ? Math.hypot(y, z) : Number.NaN,
    sagittalReachM: frame.courtHeadingKnown ? Math.hypot(x, z) : Number.NaN,
    courtHeadingKnown: frame.courtHeadingKnown,
    sweetSpotSpeedMS: Math.hypot(...speeds),
    peakImplementRateRadS: cut.peakImplementRateRadS,
    contactImplementRateRadS: cut.contactImplementRateRadS,
    clippedSamples: cut.clippedSamples,
    interpolatedSamples: cut.interpolatedSamples,
  };
  return { swing, curves };
}

function voidReading(voidReason: VoidReason, cut: SwingCut, index: number): SwingReading {
  const nothing = Number.NaN;
  const swing: Swing = {
    index,
    contactTimeUs: cut.contact.timeUs,
    startTimeUs: cut.contact.timeUs,
    voidReason,
    reachM: nothing,
    reachStandardErrorM: nothing,
    horizontalReachM: nothing,
    frontalReachM: nothing,
    sagittalReachM: nothing,
    courtHeadingKnown: false,
    sweetSpotSpeedMS: nothing,
    peakImplementRateRadS: nothing,
    contactImplementRateRadS: nothing,
    clippedSamples: 0,
    interpolatedSamples: 0,
  };
  return { swing, curves: null };
}

function endUs(series: SegmentSeries): number {
  return series.firstUs + (series.reachM.length - 1) * series.stepUs;
}

function columnEnd(column: Float64Array): EndParabola {
  return fitEndParabola(column, Math.min(EXTRAPOLATED_FROM, column.length));
}

function beyond(end: EndParabola, steps: number): number {
  return end.value + end.slope * steps + end.halfCurvature * steps * steps;
}

function slopeBeyond(end: EndParabola, steps: number): number {
  return end.slope + 2 * end.halfCurvature * steps;
}

/** Per step. Where less is left between a gap and contact than a cubic takes, a parabola has to do. */
function endSlope(column: Float64Array, steps: number): number {
  const count = Math.min(SPEED_FROM, column.length);
  return count < 4 ? slopeBeyond(columnEnd(column), steps) : endCubicSlope(column, count, steps);
}

/** A column between its instants: cubic inside, its end parabola beyond the last clean ones. */
function reader(column: Float64Array): (position: number) => number {
  const end = columnEnd(column);
  const last = column.length - 1;
  return (position) => {
    const k = Math.floor(position);
    if (k < 1) return Number.NaN;
    if (k + 2 > last) return beyond(end, position - last);
    return cubicBetween(column[k - 1]!, column[k]!, column[k + 1]!, column[k + 2]!, position - k);
  };
}

function readCurves(cut: SwingCut, series: SegmentSeries, frame: ArmFrame): SwingCurves {
  const reachAt = reader(series.reachM);
  const directionAt = series.directions.map(reader);
  const positionOf = (timeUs: number) => (timeUs - series.firstUs) / series.stepUs;
  const { contact } = cut;
  const reachCurveM = new Float64Array(SWING_POINTS);
  const reachCurveNoiseM = new Float64Array(SWING_POINTS);
  const directions = new Float64Array(9 * SWING_POINTS);
  for (let percent = 0; percent < SWING_POINTS; percent++) {
    const share = percent / (SWING_POINTS - 1);
    const position = positionOf(cut.startUs + (contact.timeUs - cut.startUs) * share);
    reachCurveM[percent] = reachAt(position);
    reachCurveNoiseM[percent] = noiseAt(series, position, share, contact);
    fillDirections(directions, percent, directionAt, position);
  }
  const reachBeforeContactM = Float64Array.from({ length: BEFORE_CONTACT_ROWS }, (_, row) =>
    reachAt(
      positionOf(contact.timeUs - (BEFORE_CONTACT_ROWS - 1 - row) * BEFORE_CONTACT_STEP_S * 1e6),
    ),
  );
  return {
    reachCurveM,
    reachCurveNoiseM,
    reachBeforeContactM,
    directions,
    lengthsM: frame.lengthsM,
  };
}

/** Components between instants, made unit vectors again. */
function fillDirections(
  directions: Float64Array,
  percent: number,
  directionAt: readonly ((position: number) => number)[],
  position: number,
): void {
  for (let k = 0; k < 3; k++) {
    const at = 9 * percent + 3 * k;
    let square = 0;
    for (let i = 0; i < 3; i++) {
      const component = directionAt[3 * k + i]!(position);
      directions[at + i] = component;
      square += component * component;
    }
    const length = Math.sqrt(square);
    for (let i = 0; i < 3; i++) directions[at + i] = directions[at + i]! / length;
  }
}

/** The curve is tied to contact: an error of its time moves late points fully, early ones hardly. */
function noiseAt(
  series: SegmentSeries,
  position: number,
  share: number,
  { standardErrorUs }: Contact,
): number {
  const { reachM, noiseM, stepUs } = series;
  const last = reachM.length - 1;
  const nearest = Math.round(position);
  const k = Math.min(last, Math.max(0, nearest));
  const slope =
    nearest + 1 > last
      ? slopeBeyond(columnEnd(reachM), position - last)
      : (reachM[k + 1]! - reachM[Math.max(0, k - 1)]!) / 2;
  return Math.hypot(noiseM[k]!, (slope * share * standardErrorUs) / stepUs);
}
