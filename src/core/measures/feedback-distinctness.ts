import { brownForsythe, type EqualSpread } from '../statistics/equal-spread.ts';
import {
  dataFault,
  type Estimate,
  isUnavailable,
  type Unavailable,
} from '../statistics/estimate.ts';
import { localWeights } from '../statistics/local-weights.ts';
import { logJackknifeInterval } from '../statistics/log-jackknife-interval.ts';
import { highest, times } from '../statistics/peak-interval.ts';
import { takeRows } from '../statistics/resampling.ts';
import { rocAuc } from '../statistics/roc-auc.ts';
import type { AccuracyClasses } from './accuracy-classes.ts';
import { spreadRatio } from './reach-at-contact.ts';
import { reachGrid, scoreSmoothing } from './sweet-spot.ts';
import { MEASURES } from './thresholds.ts';
import { unknownVerdict, type Verdict, verdictOf } from './verdict.ts';

/** Does reach tell the player whether a ball was accurate? */
export interface FeedbackDistinctness {
  /** Scored swings. */
  readonly n: number;
  /** SD of reach at contact on accurate balls over that on all others. */
  readonly sdRatio: Estimate | Unavailable;
  readonly equalSpread: EqualSpread | Unavailable;
  /**
   * Chance that a poor ball was farther from the sweet spot than another one was (area under the ROC curve), each
   * ball against a sweet spot found from other balls.
   */
  readonly tellsPoor: Estimate | Unavailable;
  readonly verdict: Verdict<'distinct' | 'reversed' | 'undecided'>;
}

const { limits: LIMITS } = MEASURES.feedback;
/** Parts of a set, of which each is told by a sweet spot from the others. */
const FOLDS = 10;

/**
 * Compares the spread of reach on accurate balls with that on all others, and asks how well distance from the
 * sweet spot tells a poor ball. A sweet spot estimated from the same balls would flatter that, hence ten-fold
 * cross-validation: where reach has no effect the area is 0.50 to 0.52 on average (simulated).
 * @param reachM at contact, one per swing @param classes of these swings; eight accurate and eight others
 * Source: design.md section 9; Brown & Forsythe 1974; DeLong et al. 1988; cross-validation: Stone 1974.
 * Checked: tests/measures/feedback-distinctness.test.ts; tests/measures/feedback-operating.test.ts
 */
export function feedbackDistinctness(
  reachM: ArrayLike<number>,
  classes: AccuracyClasses,
): FeedbackDistinctness {
  const { rows, scored } = classes;
  const n = scored.length;
  const accurate = takeRows(reachM, rows.accurate);
  const others = takeRows(reachM, Int32Array.of(...rows.fair, ...rows.poor));
  const sdRatio = ratioByClass(accurate, others);
  const equalSpread = isUnavailable(sdRatio) ? sdRatio : brownForsythe([accurate, others]);
  return {
    n,
    sdRatio,
    equalSpread,
    tellsPoor: tellsPoor(reachM, classes),
    verdict: judge(n, sdRatio, equalSpread),
  };
}

function ratioByClass(accurate: Float64Array, others: Float64Array): Estimate | Unavailable {
  const have = Math.min(accurate.length, others.length);
  const need = LIMITS.minimumN;
  if (have < need) return { reason: 'too-few', need, have };
  const all = Float64Array.of(...accurate, ...others);
  return (
    dataFault(1, all) ??
    logJackknifeInterval([accurate.length, others.length], (a, b) => spreadRatio(all, a!, b!))
  );
}

function tellsPoor(
  reachM: ArrayLike<number>,
  { rows, scored, points }: AccuracyClasses,
): Estimate | Unavailable {
  const poor = new Set(rows.poor);
  const have = Math.min(poor.size, scored.length - poor.size);
  const need = LIMITS.minimumN;
  if (have < need) return { reason: 'too-few', need, have };
  const distances = distancesFromSweetSpot(takeRows(reachM, scored), points);
  if (!distances) return { reason: 'collinear' };
  return rocAuc(
    distances.filter((_, i) => !poor.has(scored[i]!)),
    distances.filter((_, i) => poor.has(scored[i]!)),
  );
}

/** Distance of each ball from the best reach of the balls in the other folds, metres. */
function distancesFromSweetSpot(reachM: Float64Array, points: Float64Array): Float64Array | null {
  const distances = new Float64Array(reachM.length);
  for (let fold = 0; fold < FOLDS; fold++) {
    const others = reachM.filter((_, i) => i % FOLDS !== fold);
    const scores = points.filter((_, i) => i % FOLDS !== fold);
    const grid = reachGrid(others);
    const weights = localWeights(others, grid, scoreSmoothing(others.length));
    if (!weights) return null;
    const best = grid[highest(times(weights, scores, new Float64Array(grid.length)))]!;
    for (let i = fold; i < reachM.length; i += FOLDS) distances[i] = Math.abs(reachM[i]! - best);
  }
  return distances;
}

function judge(
  n: number,
  ratio: Estimate | Unavailable,
  test: EqualSpread | Unavailable,
): FeedbackDistinctness['verdict'] {
  if (isUnavailable(ratio)) return unknownVerdict(MEASURES.feedback, n, ratio);
  if (isUnavailable(test)) return unknownVerdict(MEASURES.feedback, n, test);
  const steadier = ratio.value < 1 ? 'distinct' : 'reversed';
  return verdictOf(MEASURES.feedback, n, test.p <= LIMITS.alpha ? steadier : 'undecided');
}
