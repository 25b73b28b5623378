import { compareConditions } from '../../src/core/measures/comparison.ts';
import type {
  ComparisonOptions,
  Kit,
  MeasureContrast,
  TwoConditions,
} from '../../src/core/measures/comparison-measure.ts';
import { type Decision, decide } from '../../src/core/measures/decision.ts';
import { isUnavailable } from '../../src/core/statistics/estimate.ts';
import {
  type ConditionPlayer,
  conditionSet,
  populationOf,
  STEADY,
  STIFF,
  THRESHOLDS,
} from './condition-pairs.ts';
import type { VirtualArm } from './virtual-arms.ts';

/**
 * Pairs of conditions of which it is known which kit serves better: 'smaller' when by the theory in decide the smaller
 * one does, 'larger' when the larger is equal or better; 'torn' when one has the better score and the other the better
 * movement. All invented.
 */
export interface Pair {
  readonly smaller: ConditionPlayer;
  readonly larger: ConditionPlayer;
  readonly truth: Kit | 'torn';
}

/** All deviations of an arm larger or smaller by a factor. */
function scaled(arm: VirtualArm, by: number): VirtualArm {
  const three = (v: readonly [number, number, number]) =>
    [v[0] * by, v[1] * by, v[2] * by] as const;
  return {
    ...arm,
    latents: arm.latents.map(({ steady, early, late }) => ({
      ...(steady && { steady: three(steady) }),
      ...(early && { early: three(early) }),
      ...(late && { late: three(late) }),
    })),
  };
}

/** Between the two arms: hardly any late wrist, half the coupling. */
const BETWEEN: ConditionPlayer = {
  ...STIFF,
  arm: {
    ...STEADY.arm,
    latents: [
      { steady: [5, 4, 0] },
      { steady: [0, 3, 0] },
      { steady: [0, 0, 6] },
      { early: [1, 4, 4] },
    ],
  },
  missPerM: 50,
  otherSdM: 0.9,
};

export const PAIRS = {
  'smaller better, clearly': { smaller: STEADY, larger: STIFF, truth: 'smaller' },
  'smaller better, less clearly': { smaller: STEADY, larger: BETWEEN, truth: 'smaller' },
  'smaller better in score alone': {
    smaller: { ...STEADY, otherSdM: 0.35 },
    larger: { ...STEADY, otherSdM: 1.2 },
    truth: 'smaller',
  },
  'smaller better in movement alone': {
    smaller: { ...STEADY, otherSdM: 0.85 },
    larger: STIFF,
    truth: 'smaller',
  },
  'equal, good': { smaller: STEADY, larger: STEADY, truth: 'larger' },
  'equal, stiff': { smaller: STIFF, larger: STIFF, truth: 'larger' },
  'larger better, clearly': { smaller: STIFF, larger: STEADY, truth: 'larger' },
  'larger better, less clearly': { smaller: BETWEEN, larger: STEADY, truth: 'larger' },
  'larger steadier alone': {
    smaller: { ...STEADY, arm: scaled(STEADY.arm, 1.5), missPerM: STEADY.missPerM / 1.5 },
    larger: STEADY,
    truth: 'larger',
  },
  'score against movement': {
    smaller: { ...STEADY, missPerM: 130, otherSdM: 1.9 },
    larger: { ...STIFF, otherSdM: 0.6 },
    truth: 'torn',
  },
} as const satisfies Record<string, Pair>;

export interface DecisionRates {
  /** Shares of the pairs, in per cent. */
  readonly right: number;
  readonly wrong: number;
  readonly notEnough: number;
  /**
   * Of those not enough, in per cent: how many got a number of swings; the median number; and how often that many
   * more settled it, and rightly, in the first of them that were followed.
   */
  readonly asked: number;
  readonly medianMore: number;
  readonly settled: number;
  readonly settledRight: number;
}

export interface DecisionExperiment {
  readonly n: number;
  readonly pairs: number;
  readonly seed: number;
  /** Open decisions that are asked again with as many swings as they wanted. */
  readonly followed?: number;
  readonly draws: number;
  readonly resamples: number;
}

/** Decisions over simulated pairs of sets of n swings each, and over the same sets with as many more as were asked for. */
export function decisionRates(
  { smaller, larger, truth }: Pair,
  { n, pairs, seed, followed = 60, draws, resamples }: DecisionExperiment,
): DecisionRates {
  const decisionOn = (size: number, pair: number): Decision => {
    const sets = drawn({ smaller, larger }, size, seed + pair);
    const options = { seed: pair, draws, resamples, thresholds: THRESHOLDS };
    return decide(compareConditions(sets, options), 'larger');
  };
  let [right, wrong, settled, settledRight] = [0, 0, 0, 0];
  const more: number[] = [];
  for (let pair = 0; pair < pairs; pair++) {
    const { serves, moreSwings } = decisionOn(n, pair);
    if (serves === truth) right++;
    else if (serves !== null) wrong++;
    else if (moreSwings !== null) {
      more.push(moreSwings);
      if (more.length > followed) continue;
      const later = decisionOn(n + moreSwings, pair).serves;
      if (later !== null) settled++;
      if (later === truth) settledRight++;
    }
  }
  const percent = (count: number, of: number) => (100 * count) / of;
  return {
    right: percent(right, pairs),
    wrong: percent(wrong, pairs),
    notEnough: percent(pairs - right - wrong, pairs),
    asked: percent(more.length, Math.max(1, pairs - right - wrong)),
    medianMore: more.sort((a, b) => a - b)[Math.floor(more.length / 2)] ?? 0,
    settled: percent(settled, Math.max(1, Math.min(followed, more.length))),
    settledRight: percent(settledRight, Math.max(1, Math.min(followed, more.length))),
  };
}

/** How a measure fares over simulated pairs: intervals that hold the truth, and p values up to 5 %, in per cent. */
export interface ContrastRates {
  readonly truth: number;
  /** Pairs in which it could be had. */
  readonly known: number;
  readonly held: number;
  readonly small: number;
}

type Contrast = (sets: TwoConditions, options: ComparisonOptions) => MeasureContrast;

/** Coverage of an interval and size of a p value; the truth is the contrast of the two populations. */
export function contrastRates(
  compare: Contrast,
  { smaller, larger }: Pick<Pair, 'smaller' | 'larger'>,
  { n, pairs, seed, draws, resamples }: DecisionExperiment,
): ContrastRates {
  const options = { draws, resamples, thresholds: THRESHOLDS };
  const truth = trueContrast(compare, { smaller, larger });
  let [known, held, small] = [0, 0, 0];
  for (let pair = 0; pair < pairs; pair++) {
    const sets = drawn({ smaller, larger }, n, seed + pair);
    const { contrast, p } = compare(sets, { ...options, seed: pair });
    if (isUnavailable(contrast) || isUnavailable(p)) continue;
    known++;
    if (contrast.low <= truth && truth <= contrast.high) held++;
    if (p.p <= 0.05) small++;
  }
  return { truth, known, held: (100 * held) / known, small: (100 * small) / known };
}

function trueContrast(compare: Contrast, { smaller, larger }: Pick<Pair, 'smaller' | 'larger'>) {
  // Of a player with themselves it is the same from any swings.
  const enough = smaller === larger ? 40 : undefined;
  const sets = {
    smaller: populationOf(smaller).slice(0, enough),
    larger: populationOf(larger).slice(0, enough),
  };
  const { contrast } = compare(sets, {
    seed: 1,
    draws: 99,
    resamples: 100,
    thresholds: THRESHOLDS,
  });
  return isUnavailable(contrast) ? Number.NaN : contrast.value;
}

function drawn({ smaller, larger }: Pick<Pair, 'smaller' | 'larger'>, n: number, seed: number) {
  return {
    smaller: conditionSet(smaller, n, 2 * seed),
    larger: conditionSet(larger, n, 2 * seed + 1),
  };
}
