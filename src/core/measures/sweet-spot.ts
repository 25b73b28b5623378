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
  /**
   * Ends of the reaches around it that are expected to score within one point of the best, metres; null where the
   * curve ends before the score has fallen so far. How sure they are, the band of the curve says.
   */
  readonly fromM: number | null;
  readonly toM: number | null;
}

const { limits: LIMITS } = MEASURES.sweetSpot;
const PLACES = 61;
/** Balls farther out are too few to carry the end of a curve. */
const TAIL = 0.05;
/** So many balls are smoothed over half of them. */
const HALF_OF = 40;

/**
 * Local parabolas over half of the balls, of more than 40 over a share that falls with the cube root of their number.
 * A score that falls off faster on one side draws the highest point of a smooth curve to the other: that bias has to
 * shrink faster than the noise. The interval of such a lopsided sweet spot holds it 88, 95, 95, 93 % of the time with
 * 20, 40, 100, 200 balls; over half of them throughout it would be 90 and 77 to 85 % with 100 and 200.
 */
export function scoreSmoothing(balls: number): LocalWeightsOptions {
  return { span: 0.5 * Math.min(1, Math.cbrt(HALF_OF / balls)), degree: 2 };
}

/**
 * Score against reach at contact. A sweet spot is found when the score is shown to rise up to some reach and to
 * fall beyond it; the curve and its highest point alone always look like one.
 * @param reachM, points of the scored swings, at least fifteen
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
  const smoothing = scoreSmoothing(n);
  const fit = localRegression(reachM, points, grid, smoothing);
  if (isUnavailable(fit)) return { n, test, curve: fit, place: null, verdict: unknown(n, fit) };
  const curve = { ...fit, reachM: grid };
  const bestM = peakInterval(reachM, points, grid, smoothing, options);
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

/** Places at which a curve of score against these reaches is read: 61, rising, metres, from the 5th to the 95th percentile. */
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

function sweetRange({ fit, reachM }: ScoreCurve): Pick<SweetSpotPlace, 'fromM' | 'toM'> {
  const best = highest(fit);
  const least = fit[best]! - LIMITS.withinPoints;
  let from = best;
  let to = best;
  while (from > 0 && fit[from - 1]! >= least) from--;
  while (to < fit.length - 1 && fit[to + 1]! >= least) to++;
  return {
    fromM: from === 0 ? null : reachM[from]!,
    toM: to === fit.length - 1 ? null : reachM[to]!,
  };
}

function unknown(n: number, why: Unavailable): Verdict<never> {
  return unknownVerdict(MEASURES.sweetSpot, n, why);
}
