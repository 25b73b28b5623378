import { likeliestGyroErrors } from '../arm/gyro-evidence.ts';
import { smoothHeadings } from '../arm/heading-smoother.ts';
import { TILT_IN_REVIEW } from '../arm/reach.ts';
import { usualThresholds } from '../measures/accuracy-classes.ts';
import { measureFamilies, type SetMeasures } from '../measures/measure-set.ts';
import type { ResamplingOptions } from '../measures/narrowing.ts';
import { withEnds } from '../swings/moved-ends.ts';
import { readSwing, type SwingReading } from '../swings/read-swing.ts';
import { uprightCut } from '../swings/upright-cut.ts';
import { frameOf } from './arm-frame.ts';
import { blocksLike } from './blocks.ts';
import { measuredSwings } from './measured-swings.ts';
import type { LiveView } from './outputs.ts';
import { type PipelineState, scoredSwings, viewReadings } from './pipeline.ts';
import { endsOf } from './score-book.ts';

/**
 * The swings of a set read again with hindsight: between the ends the coach gave them, every heading also from what
 * came after the swing (forward and backward filter joined), every vertical without what all swings together say of
 * the gyroscopes' errors. Acausal, so never shown live; screens and reports that use it say so.
 * @returns one reading a swing, in the order of `state.swings`; the state is left as it is
 */
export function reviewSwings(state: PipelineState): SwingReading[] {
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
  return state.swings.map(({ cut, known }, index) => {
    const smoothed = { ...known, elbow: elbows[index]!, wrist: wrists[index]! };
    const upright = uprightCut(cut, gyroErrors);
    const ends = endsOf(state.scores, cut.contact.timeUs);
    return readSwing(
      ends === null ? upright : withEnds(upright, ends),
      frameOf(smoothed, state.params, TILT_IN_REVIEW),
      index,
    );
  });
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
 * The measures of a finished set under one condition, one family after another.
 * @param block whose condition is meant, from 0; the last one unless said
 * @returns as measureFamilies; full points are the most the set's score pad offers
 */
export function measureReviewed(
  state: PipelineState,
  options: ResamplingOptions,
  block = state.blocks.conditions.length - 1,
): Generator<Partial<SetMeasures>, void, void> {
  const readings = reviewSwings(state);
  const blocks = blocksLike(state.blocks.conditions, block);
  const swings = measuredSwings(readings, scoredSwings(state, readings), blocks);
  const fullPoints = Math.max(0, ...state.description.scoreSteps);
  // without a score pad no swing has points, and any threshold does
  const thresholds = usualThresholds(fullPoints > 0 ? fullPoints : 1);
  return measureFamilies({ swings, thresholds }, options);
}
