import { type BootstrapOptions, quantileOfSorted } from '../statistics/bootstrap-interval.ts';
import {
  dataFault,
  type Estimate,
  isUnavailable,
  type Unavailable,
} from '../statistics/estimate.ts';
import { type InteriorPeak, interiorPeak } from '../statistics/interior-peak.ts';
import { type LocalRegression, localRegression } from '../statistics/local-regression.ts';
import type { LocalWeightsOptions } from '../statistics/local-weights.ts';
import { highest, peakInterval } from '../statistics/peak-interval.ts';
import { MEASURES } from './thresholds.ts';
import { unknownVerdict, type Verdict, verdictOf } from './verdict.ts';

/** Which reach scores best? */
export interface SweetSpot {
  /** Scored swings. */
  readonly n: number;
  readonly test: InteriorPeak | Unavailable;
  readonly curve: ScoreCurve | Unavailable;
  /** null unless a sweet spot was found; the verdict says why. */
  readonly place: SweetSpotPlace | null;
  readonly verdict: Verdict<'found' | 'flat' | 'oneSided'>;
}

/** Expected score against reach, with its pointwise 95 % band. */
export interface ScoreCurve extends LocalRegression {
  /** Metres, rising, from the 5th to the 95th percentile of the reaches; columns as long as `fit`. */
  readonly reachM: Float64Array;
}

export interface SweetSpotPlace {
  /** Reach with the best expected score, metres. */
  readonly bestM: Estimate;
  /** Reaches around it that are expected to score within one point of the best, metres. */
  readonly fromM: number;
  readonly toM: number;
}

const { limits: LIMITS } = MEASURES.sweetSpot;
const PLACES = 61;
/** Balls farther out are too few to carry the end of a curve. */
const TAIL = 0.05;
/**
 * Local parabolas over half of the balls. Over three quarters a score that falls off faster on one side draws the
 * highest point so far to the other that its 95 % interval holds 77 % of the time with 40 balls, 49 % with 100.
 * Over half it holds 92 % with 40 balls, but 77 % with 200.
 */
export const SCORE_SMOOTHING: LocalWeightsOptions = { span: 0.5, degree: 2 };

/**
 * Score against reach at contact. A sweet spot is found when the score is shown to rise up to some reach and to
 * fall beyond it; the curve and its highest point alone always look like one.
 * @param reachM, points of the scored swings, at least ten
 * @returns the same for the same swings, seed and number of resamples
 * Source: design.md section 9; interiorPeak, localRegression, peakInterval.
 * Checked: tests/measures/sweet-spot.test.ts; tests/measures/sweet-spot-operating.test.ts
 */
export function sweetSpot(
  reachM: ArrayLike<number>,
  points: ArrayLike<number>,
  options: BootstrapOptions,
): SweetSpot {
  const n = reachM.length;
  const fault = dataFault(LIMITS.minimumN, reachM, points);
  const test =
    fault ?? interiorPeak(reachM, points, { seed: options.seed, draws: options.resamples ?? 1999 });
  if (isUnavailable(test)) return { n, test, curve: test, place: null, verdict: unknown(n, test) };
  const grid = reachGrid(reachM);
  const fit = localRegression(reachM, points, grid, SCORE_SMOOTHING);
  if (isUnavailable(fit)) return { n, test, curve: fit, place: null, verdict: unknown(n, fit) };
  const curve = { ...fit, reachM: grid };
  const bestM = peakInterval(reachM, points, grid, SCORE_SMOOTHING, options);
  if (isUnavailable(bestM)) return { n, test, curve, place: null, verdict: unknown(n, bestM) };
  const answer = judge(test);
  return {
    n,
    test,
    curve,
    place: answer === 'found' ? { bestM, ...sweetRange(curve) } : null,
    verdict: verdictOf(MEASURES.sweetSpot, n, answer),
  };
}

/** Places at which a curve of score against these reaches is read, metres, rising. */
export function reachGrid(reachM: ArrayLike<number>): Float64Array {
  const sorted = Float64Array.from(reachM).sort();
  const low = quantileOfSorted(sorted, TAIL);
  const high = quantileOfSorted(sorted, 1 - TAIL);
  return Float64Array.from({ length: PLACES }, (_, i) => low + ((high - low) * i) / (PLACES - 1));
}

function judge({ pRelated, pRises, pFalls }: InteriorPeak): 'found' | 'flat' | 'oneSided' {
  if (Math.max(pRises, pFalls) <= LIMITS.alpha) return 'found';
  return pRelated <= LIMITS.alpha ? 'oneSided' : 'flat';
}

function sweetRange({ fit, reachM }: ScoreCurve): { fromM: number; toM: number } {
  const best = highest(fit);
  const least = fit[best]! - LIMITS.withinPoints;
  let from = best;
  let to = best;
  while (from > 0 && fit[from - 1]! >= least) from--;
  while (to < fit.length - 1 && fit[to + 1]! >= least) to++;
  return { fromM: reachM[from]!, toM: reachM[to]! };
}

function unknown(n: number, why: Unavailable): Verdict<never> {
  return unknownVerdict(MEASURES.sweetSpot, n, why);
}
