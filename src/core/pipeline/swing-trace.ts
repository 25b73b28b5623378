import { endsRange, type SwingEnds } from '../swings/moved-ends.ts';
import { type SegmentSeries, segmentSeries } from '../swings/segment-series.ts';
import { turnRates } from '../swings/turn-rates.ts';
import type { PipelineState } from './pipeline.ts';
import { betweenEnds, reviewedCuts } from './review.ts';

/** One swing at the 200 Hz instants around it, court frame, read with hindsight. */
export interface SwingTrace
  extends Pick<SegmentSeries, 'firstUs' | 'stepUs' | 'directions' | 'reachM' | 'noiseM'> {
  /** Place in the set, from 0. */
  readonly index: number;
  /** Upper arm, forearm, implement: speed of turning, rad/s, shape (rows), and length, metres. */
  readonly turnRateRadS: readonly Float64Array[];
  readonly lengthsM: readonly [number, number, number];
  /** false: all directions are turned about the vertical by one unknown angle. */
  readonly courtHeadingKnown: boolean;
  /** Start and contact as found, as they are read now, and how far they can be moved, host time in microseconds. */
  readonly found: SwingEnds;
  readonly ends: SwingEnds;
  readonly range: { readonly firstUs: number; readonly lastUs: number };
}

/**
 * The traces of one swing of a finished set.
 * @param index place in the set, from 0
 * @returns null when there is nothing to draw: the swing's void reason says why
 * Checked: tests/pipeline/swing-trace.test.ts
 */
export function traceSwing(state: PipelineState, index: number): SwingTrace | null {
  if (state.swings[index] === undefined) return null;
  const { cut, frame } = reviewedCuts(state)(index);
  const range = endsRange(cut);
  if (range === null || typeof frame === 'string') return null;
  const { firstUs, stepUs, directions, reachM, noiseM } = segmentSeries(cut, frame);
  const read = betweenEnds(state, cut);
  return {
    index,
    firstUs,
    stepUs,
    directions,
    reachM,
    noiseM,
    turnRateRadS: turnRates(cut),
    lengthsM: frame.lengthsM,
    courtHeadingKnown: frame.courtHeadingKnown,
    found: { startUs: cut.startUs, contactUs: cut.contact.timeUs },
    ends: { startUs: read.startUs, contactUs: read.contact.timeUs },
    range,
  };
}
