import { bcaIntervals } from '../statistics/bca-intervals.ts';
import type { BootstrapOptions } from '../statistics/bootstrap-interval.ts';
import {
  CONFIDENCE,
  type Estimate,
  isUnavailable,
  type Unavailable,
} from '../statistics/estimate.ts';
import { checkedCovariance } from '../statistics/moments.ts';
import { rowsByGroup } from '../statistics/resampling.ts';
import { covarianceShares, ownVarianceShares } from '../statistics/variance-shares.ts';
import {
  BINNED_POINTS,
  BINS,
  binnedCovariance,
  binOf,
  COVARIANCE_SIZE,
  ROUNDING_M2,
} from './binned-covariance.ts';
import { findHandOver, type HandOver } from './hand-over.ts';
import type { MeasuredSwing } from './measured-swing.ts';
import {
  type PostureDeviations,
  postureDeviations,
  reachGradient,
  TURNS,
} from './posture-deviations.ts';
import { MEASURES } from './thresholds.ts';

type Answer = Estimate | Unavailable;

/** Shares of upper arm, forearm and implement in the spread of reach, over one stretch of the swing. */
export interface SegmentShares {
  /**
   * cov(J_k delta theta_k, delta r)/var(delta r), delta r their sum: the three add up to 1, and one below 0 makes
   * up for the others. Wide where the segments make up for each other almost wholly.
   */
  readonly signed: readonly [Answer, Answer, Answer];
  /** var(J_k delta theta_k)/sum of the three: how much each varies by itself, between 0 and 1. */
  readonly own: readonly [Answer, Answer, Answer];
  /** Forearm and implement together. */
  readonly distal: Answer;
  readonly distalOwn: Answer;
  /** Variance of reach that the first-order sum leaves, over that of reach. Near a straight arm it is large. */
  readonly residual: number | Unavailable;
}

/** Which segments carry the spread of reach. */
export interface Shares {
  readonly n: number;
  /** 0-10 % .. 90-100 % of the swing. */
  readonly bins: readonly SegmentShares[];
  /** All bins together: where reach varies more, a bin counts more. */
  readonly wholeSwing: SegmentShares;
  readonly handOver: HandOver | Unavailable;
  /** The hand-over index with the wider interval that its verdict asks for. */
  readonly handOverForVerdict: Answer;
}

const MINIMUM_N = MEASURES.shares.limits.minimumN;

/** Bins, then the whole swing; of each three signed shares and three of own variance; then the hand-over. */
const STRETCHES = BINS + 1;
const OWN = 3 * STRETCHES;
const HAND_OVER = 2 * OWN;
/** The hand-over once more, at the level of its verdict. */
const LEVELS = [
  ...Array.from({ length: HAND_OVER + 1 }, () => CONFIDENCE),
  MEASURES.handOver.limits.verdictLevel,
];

/**
 * Shares of the segments in the across-swing variance of reach, with BCa intervals widened for few swings. The
 * gradient is that of the mean posture, found anew in every resample.
 * @param swings at least ten
 * @returns the same for the same swings, seed and number of resamples
 * Source: design.md section 9; covariance shares: reference.md section D.
 * Checked: tests/measures/shares.test.ts, tests/measures/arm-operating.test.ts
 */
export function shares(
  swings: readonly MeasuredSwing[],
  options: Pick<BootstrapOptions, 'seed' | 'resamples'>,
): Shares | Unavailable {
  const n = swings.length;
  if (n < MINIMUM_N) return { reason: 'too-few', need: MINIMUM_N, have: n };
  const deviations = postureDeviations(swings, BINNED_POINTS);
  if (isUnavailable(deviations)) return deviations;
  const covariance = binnedCovariance(deviations);
  const fill = (rows: Int32Array, out: Float64Array) => fillShares(out, covariance(rows));
  const answers = bcaIntervals(n, LEVELS, fill, options);
  const values = new Float64Array(answers.length);
  fill(rowsByGroup([n])[0]!, values);
  const residuals = linearityResiduals(swings, deviations);
  const stretch = (s: number) => readStretch(answers, s, residuals[s]!);
  return {
    n,
    bins: Array.from({ length: BINS }, (_, bin) => stretch(bin)),
    wholeSwing: stretch(BINS),
    handOver: readHandOver(answers[HAND_OVER]!, values.subarray(OWN)),
    handOverForVerdict: answers[HAND_OVER + 1]!,
  };
}

/** All statistics from the covariances of the ten bins. */
function fillShares(out: Float64Array, bins: Float64Array): void {
  const whole = new Float64Array(COVARIANCE_SIZE);
  for (let i = 0; i < bins.length; i++) whole[i % COVARIANCE_SIZE]! += bins[i]!;
  for (let s = 0; s < STRETCHES; s++) {
    const at = s * COVARIANCE_SIZE;
    const covariance = s < BINS ? bins.subarray(at, at + COVARIANCE_SIZE) : whole;
    covarianceShares(out.subarray(3 * s, 3 * s + 3), covariance);
    ownVarianceShares(out.subarray(OWN + 3 * s, OWN + 3 * s + 3), covariance);
  }
  out[HAND_OVER] = Math.abs(findHandOver(out.subarray(OWN))?.change ?? Number.NaN);
  out[HAND_OVER + 1] = out[HAND_OVER]!;
}

function readHandOver(index: Answer, own: Float64Array): HandOver | Unavailable {
  if (isUnavailable(index)) return index;
  const found = findHandOver(own);
  return found === null ? { reason: 'no-spread' } : { index, ...found };
}

function readStretch(answers: readonly Answer[], s: number, residual: number): SegmentShares {
  const three = (from: number) =>
    [0, 1, 2].map((k) => answers[from + 3 * s + k]!) as [Answer, Answer, Answer];
  const signed = three(0);
  const own = three(OWN);
  return {
    signed,
    own,
    distal: rest(signed[0]),
    distalOwn: rest(own[0]),
    residual: Number.isFinite(residual) ? residual : { reason: 'no-spread' },
  };
}

/** What the upper arm leaves to the others. */
function rest(upperArm: Answer): Answer {
  if (isUnavailable(upperArm)) return upperArm;
  const { value, low, high } = upperArm;
  return { ...upperArm, value: 1 - value, low: 1 - high, high: 1 - low };
}

/** Variance of reach not in the linear sum over that of reach, in each bin and the whole swing; NaN without spread. */
function linearityResiduals(
  swings: readonly MeasuredSwing[],
  { postures, turnRad, lengthsM }: PostureDeviations,
): Float64Array {
  const left = new Float64Array(STRETCHES);
  const all = new Float64Array(STRETCHES);
  const gradient = new Float64Array(TURNS);
  for (const [p, point] of BINNED_POINTS.entries()) {
    reachGradient(gradient, postures[p]!, lengthsM, new Float64Array(TURNS));
    const reach = Float64Array.from(swings, (swing) => reachAt(swing, point));
    const rest = reach.map((value, i) => {
      const at = (p * swings.length + i) * TURNS;
      return gradient.reduce((sum, slope, j) => sum - slope * turnRad[at + j]!, value);
    });
    for (const s of [binOf(p), BINS]) {
      left[s]! += checkedCovariance(rest, rest);
      all[s]! += checkedCovariance(reach, reach);
    }
  }
  return left.map((variance, s) => (all[s]! > ROUNDING_M2 ? variance / all[s]! : Number.NaN));
}

/** Reach by the directions, metres. */
function reachAt({ directions, lengthsM }: MeasuredSwing, point: number): number {
  const axis = (i: number) =>
    lengthsM.reduce((sum, length, k) => sum + length * directions[9 * point + 3 * k + i]!, 0);
  return Math.hypot(axis(0), axis(1), axis(2));
}
