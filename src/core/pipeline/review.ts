import { likeliestGyroErrors } from '../arm/gyro-evidence.ts';
import { smoothHeadings } from '../arm/heading-smoother.ts';
import { TILT_IN_REVIEW } from '../arm/reach.ts';
import { usualThresholds } from '../measures/accuracy-classes.ts';
import { measureFamilies, type ReviewedMeasures } from '../measures/measure-set.ts';
import type { ResamplingOptions } from '../measures/narrowing.ts';
import { orderEffects } from '../measures/order-effects.ts';
import { withEnds } from '../swings/moved-ends.ts';
import { readSwing, type SwingReading } from '../swings/read-swing.ts';
import type { SwingCut } from '../swings/swing-cut.ts';
import { uprightCut } from '../swings/upright-cut.ts';
import { frameOf } from './arm-frame.ts';
import { blocksLike } from './blocks.ts';
import { measuredSwings } from './measured-swings.ts';
import type { LiveView } from './outputs.ts';
import { type PipelineState, scoredSwings, viewReadings } from './pipeline.ts';
import { endsOf } from './score-book.ts';

/** A swing as hindsight sees it: what is read, between the ends that were found, and in which frame. */
export interface ReviewedCut {
  readonly cut: SwingCut;
  readonly frame: ReturnType<typeof frameOf>;
}

/**
 * The cuts of a set with hindsight: every heading also from what came after the swing (forward and backward filter
 * joined), every vertical without what all swings together say of the gyroscopes' errors. Acausal, so never shown
 * live; screens and reports that use it say so.
 * @returns the cut of a swing by its place in `state.swings`, from 0; the state is left as it is
 */
export function reviewedCuts(state: PipelineState): (index: number) => ReviewedCut {
  const { elbow, wrist, gyroEvidence } = state.arm;
  const gyroErrors = likeliestGyroErrors(gyroEvidence);
  const elbows = smoothHeadings(
    elbow.history,
    state.swings.map(({ known }) => ({ known: known.elbow, steps: known.elbowSteps })),
  );
  const wrists = smoothHeadings(
    wrist.history,
    state.swings.map(({ known }) => ({ known: known.wrist, steps: known.wristSteps })),
  );
  return (index) => {
    const { cut, known } = state.swings[index]!;
    const smoothed = { ...known, elbow: elbows[index]!, wrist: wrists[index]! };
    return {
      cut: uprightCut(cut, gyroErrors),
      frame: frameOf(smoothed, state.params, TILT_IN_REVIEW),
    };
  };
}

/** The swings of a set read from {@link reviewedCuts}, in order, between the ends the coach gave them. */
export function reviewSwings(state: PipelineState): SwingReading[] {
  const cutOf = reviewedCuts(state);
  return state.swings.map((_, index) => {
    const { cut, frame } = cutOf(index);
    return readSwing(betweenEnds(state, cut), frame, index);
  });
}

/** A cut between the ends the coach gave its swing; as it is where nothing was moved. */
export function betweenEnds({ scores }: PipelineState, cut: SwingCut): SwingCut {
  const ends = endsOf(scores, cut.contact.timeUs);
  return ends === null ? cut : withEnds(cut, ends);
}

/**
 * A finished set as screens, reports and batch see it: read with hindsight, and saying so.
 * @param block whose condition the funnel is of, from 0; the last one unless said
 */
export function reviewPipeline(
  state: PipelineState,
  block = state.blocks.conditions.length - 1,
): LiveView {
  return viewReadings(state, reviewSwings(state), block);
}

/**
 * The measures of a finished set under one condition, one family after another; of order, the last one, swings that
 * do not count keep their places.
 * @param block whose condition is meant, from 0; the last one unless said
 * @returns as measureFamilies; full points are the most the set's score pad offers
 */
export function* measureReviewed(
  state: PipelineState,
  options: ResamplingOptions,
  block = state.blocks.conditions.length - 1,
): Generator<Partial<ReviewedMeasures>, void, void> {
  const readings = reviewSwings(state);
  const blocks = blocksLike(state.blocks.conditions, block);
  const scored = scoredSwings(state, readings);
  const swings = measuredSwings(readings, scored, blocks);
  const fullPoints = Math.max(0, ...state.description.scoreSteps);
  // without a score pad no swing has points, and any threshold does
  const thresholds = usualThresholds(fullPoints > 0 ? fullPoints : 1);
  yield* measureFamilies({ swings, thresholds }, options);
  const ordered = readings.map((reading, i) => ({
    swing: measuredSwings([reading], [scored[i]!], blocks)[0] ?? null,
    condition: '',
  }));
  yield { order: orderEffects(ordered, { seed: options.seed, draws: options.resamples ?? 1999 }) };
}
