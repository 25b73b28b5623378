import type { Unavailable } from '../statistics/estimate.ts';
import {
  type AccuracyClasses,
  type AccuracyThresholds,
  classifyByScore,
} from './accuracy-classes.ts';
import { type AccuracySplit, accuracySplit } from './accuracy-split.ts';
import { type FeedbackDistinctness, feedbackDistinctness } from './feedback-distinctness.ts';
import { type ManifoldThroughSwing, manifoldThroughSwing } from './manifold-through-swing.ts';
import { type ArmMeasures, measureArm } from './measure-arm.ts';
import { type FunnelMeasure, measureFunnel } from './measure-funnel.ts';
import type { MeasuredSwing } from './measured-swing.ts';
import type { ResamplingOptions } from './narrowing.ts';
import type { OrderEffects } from './order-effects.ts';
import { contactReach, type ReachAtContact, reachAtContact } from './reach-at-contact.ts';
import { type Score, scoreOfSet } from './score.ts';
import { type SweetSpot, sweetSpot } from './sweet-spot.ts';

/** All measures of one set, under one condition. */
export interface SetMeasures {
  /** Swings with a reach that are not discarded, and of those with a known court heading: angles need it. */
  readonly n: number;
  readonly angleN: number;
  readonly reach: ReachAtContact;
  readonly score: Score | Unavailable;
  readonly funnel: FunnelMeasure;
  readonly sweetSpot: SweetSpot;
  readonly feedback: FeedbackDistinctness | Unavailable;
  readonly arm: ArmMeasures;
  readonly manifold: ManifoldThroughSwing | Unavailable;
  readonly accuracySplit: AccuracySplit | Unavailable;
}

/** With what the order of the swings says, for which those that do not count keep their places. */
export interface ReviewedMeasures extends SetMeasures {
  readonly order: OrderEffects;
}

/** What a set's measures are computed from. */
export interface SetToMeasure {
  /** Neither void nor discarded, in order. */
  readonly swings: readonly MeasuredSwing[];
  readonly thresholds: AccuracyThresholds;
}

/**
 * The measures one family after another, so that whoever asks can show progress and stop in between.
 * @returns parts of {@link SetMeasures}, each once; the same for the same swings, seed and number of resamples
 * Source: design.md section 9.
 * Checked: tests/measures/measure-set.test.ts
 */
export function* measureFamilies(
  { swings, thresholds }: SetToMeasure,
  options: ResamplingOptions,
): Generator<Partial<SetMeasures>, void, void> {
  const classes = classifyByScore(swings, thresholds);
  const ofClasses = <T>(measure: (classes: AccuracyClasses) => T): T | Unavailable =>
    'reason' in classes ? classes : measure(classes);
  const scored = swings.filter((swing) => swing.points !== null);
  const reachM = contactReach(scored);
  yield {
    n: swings.length,
    reach: reachAtContact(swings),
    score: ofClasses((found) => scoreOfSet(swings, found)),
    sweetSpot: sweetSpot(
      reachM,
      scored.map((swing) => swing.points ?? Number.NaN),
      options,
    ),
    feedback: ofClasses((found) => feedbackDistinctness(contactReach(swings), found)),
  };
  yield { funnel: measureFunnel(swings, options) };
  const withAngles = swings.filter((swing) => swing.courtHeadingKnown);
  const arm = measureArm(withAngles, options);
  yield { angleN: withAngles.length, arm };
  const angleClasses = classifyByScore(withAngles, thresholds);
  const ofAngles = <T>(measure: (classes: AccuracyClasses) => T): T | Unavailable =>
    'reason' in angleClasses ? angleClasses : measure(angleClasses);
  yield {
    manifold: ofAngles((found) => manifoldThroughSwing(withAngles, arm.angles, found, options)),
  };
  yield {
    accuracySplit: ofAngles((found) => accuracySplit(withAngles, arm.angles, found, options)),
  };
}

/** All families at once, as {@link measureFamilies}. */
export function measureSet(set: SetToMeasure, options: ResamplingOptions): SetMeasures {
  return Object.assign({}, ...measureFamilies(set, options)) as SetMeasures;
}
