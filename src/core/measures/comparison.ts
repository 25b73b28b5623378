import { isUnavailable, type Unavailable } from '../statistics/estimate.ts';
import { holmAdjusted } from '../statistics/holm.ts';
import { compareCoupling, compareDistalShare, isElbowHeldStill } from './comparison-arm.ts';
import { compareManifold } from './comparison-manifold.ts';
import type {
  ComparedName,
  ComparisonOptions,
  MeasureContrast,
  TwoConditions,
} from './comparison-measure.ts';
import { compareNarrowing } from './comparison-narrowing.ts';
import { compareFeedback, compareSpread } from './comparison-reach.ts';
import { compareHitRate, compareScore, compareSpeed } from './comparison-score.ts';
import { COMPARED, COMPARISON } from './comparison-words.ts';
import type { MeasuredSwing } from './measured-swing.ts';

/** One measure under both conditions, corrected for the whole family. */
export interface ComparedMeasure extends MeasureContrast {
  readonly name: ComparedName;
  /** Permutation p after Holm, over all measures that have one. */
  readonly pHolm: number | Unavailable;
  /** The kit this measure speaks for; null when nothing is shown, or when neither direction is better. */
  readonly favours: 'smaller' | 'larger' | null;
}

/** Two conditions side by side. */
export interface Comparison {
  /** Swings of each. */
  readonly n: Readonly<Record<'smaller' | 'larger', number>>;
  /** Points from which on a ball is accurate. */
  readonly accurateFrom: number;
  readonly measures: Readonly<Record<ComparedName, ComparedMeasure>>;
}

/** Directions with an unknown court heading are turned about the vertical: no angles with them. */
function withAngles({ smaller, larger }: TwoConditions): TwoConditions {
  const known = (swing: MeasuredSwing) => swing.courtHeadingKnown;
  return { smaller: smaller.filter(known), larger: larger.filter(known) };
}

const CONTRASTS: Readonly<
  Record<ComparedName, (sets: TwoConditions, options: ComparisonOptions) => MeasureContrast>
> = {
  score: compareScore,
  hitRate: compareHitRate,
  spread: compareSpread,
  feedback: compareFeedback,
  narrowing: compareNarrowing,
  distalShare: (sets, options) => compareDistalShare(withAngles(sets), options),
  coupling: (sets, options) => compareCoupling(withAngles(sets), options),
  manifold: (sets, options) => compareManifold(withAngles(sets), options),
  speed: compareSpeed,
};

/**
 * Compares two conditions measure by measure: value in each, difference or ratio with interval, permutation p, and
 * that corrected over the family. What each measure means, which direction is better and why: COMPARED.
 * @param sets of one player; "larger" is the longer or heavier kit. Void swings are left out beforehand
 * @returns the same for the same swings, seed, draws and resamples; never throws for the data, a measure that
 *   cannot be had says why
 * Source: design.md section 9; Holm 1979.
 * Checked: tests/measures/comparison.test.ts, coverage and false alarms too
 */
export function compareConditions(sets: TwoConditions, options: ComparisonOptions): Comparison {
  const steps = comparisonSteps(sets, options);
  for (;;) {
    const step = steps.next();
    if (step.done === true) return step.value;
  }
}

/**
 * As {@link compareConditions}, one measure after another, so that whoever asks can show progress and do other things
 * in between.
 * @returns yields the name of each measure once it is compared; the comparison at the end
 * Checked: tests/worker/compared-sets.test.ts
 */
export function* comparisonSteps(
  sets: TwoConditions,
  options: ComparisonOptions,
): Generator<ComparedName, Comparison, void> {
  const names = Object.keys(COMPARED) as ComparedName[];
  const contrasts: MeasureContrast[] = [];
  for (const name of names) {
    contrasts.push(CONTRASTS[name](sets, options));
    yield name;
  }
  const adjusted = holmAdjusted(contrasts.map(({ p }) => (isUnavailable(p) ? p : p.p)));
  const measures = names.map((name, i) => {
    const contrast = contrasts[i]!;
    const pHolm = adjusted[i]!;
    const favours = favoured(name, contrast, pHolm);
    const isEmpty =
      name === 'coupling' && favours !== null && isElbowHeldStill(withAngles(sets)[favours]);
    return [name, { name, ...contrast, pHolm, favours: isEmpty ? null : favours }] as const;
  });
  return {
    n: { smaller: sets.smaller.length, larger: sets.larger.length },
    accurateFrom: options.thresholds.accurateFrom,
    measures: Object.fromEntries(measures) as Record<ComparedName, ComparedMeasure>,
  };
}

function favoured(
  name: ComparedName,
  { contrast }: MeasureContrast,
  pHolm: number | Unavailable,
): ComparedMeasure['favours'] {
  if (isUnavailable(contrast) || isUnavailable(pHolm) || pHolm > COMPARISON.limits.alpha)
    return null;
  const { favourable, scale } = COMPARED[name];
  if (favourable === 'neither') return null;
  const smallerIsHigher = contrast.value > (scale === 'ratio' ? 1 : 0);
  return smallerIsHigher === (favourable === 'higher') ? 'smaller' : 'larger';
}
