import { quantileOfSorted } from '../statistics/bootstrap-interval.ts';
import { isUnavailable, type Unavailable } from '../statistics/estimate.ts';
import { logJackknifeInterval } from '../statistics/log-jackknife-interval.ts';
import { checkedSd } from '../statistics/moments.ts';
import { permutationTest } from '../statistics/permutation-test.ts';
import { rowsByGroup, takeRows } from '../statistics/resampling.ts';
import {
  type ComparisonOptions,
  type MeasureContrast,
  type TwoConditions,
  tooFewIn,
  unknownContrast,
} from './comparison-measure.ts';
import { classesOf } from './comparison-score.ts';
import { COMPARISON } from './comparison-words.ts';
import { contactReach, spreadRatio } from './reach-at-contact.ts';
import { MEASURES } from './thresholds.ts';

/**
 * SD of reach at contact, smaller over larger, as observed: the floor, alike in both, only draws it toward 1.
 * Interval by the jackknife of the logarithm; permutation of the distances from the condition's median, which heavy
 * tails upset less than squares.
 * @param sets at least ten swings each
 * Source: distances from the median: Brown & Forsythe 1974, see brownForsythe.
 * Checked: tests/measures/comparison.test.ts
 */
export function compareSpread(sets: TwoConditions, options: ComparisonOptions): MeasureContrast {
  const fault = tooFewIn(sets, COMPARISON.limits.minimumN) ?? reachFault(sets);
  if (fault) return unknownContrast(fault);
  const [smaller, larger] = [contactReach(sets.smaller), contactReach(sets.larger)];
  const reach = Float64Array.of(...smaller, ...larger);
  const distances = Float64Array.of(...fromMedian(smaller), ...fromMedian(larger));
  const sizes = [smaller.length, larger.length] as const;
  return {
    smaller: checkedSd(smaller),
    larger: checkedSd(larger),
    contrast: logJackknifeInterval(sizes, (a, b) => spreadRatio(reach, a!, b!)),
    p: permutationTest(...sizes, (a, b) => logRatio(distances, a!, b!), options),
  };
}

/**
 * SD of reach on accurate balls over that on all others, and of that smaller over larger. Permutation: distances from
 * the median of class and condition, in units of the condition's spread, so that only the contrast of classes counts.
 * @param sets at least eight accurate and eight other balls in each
 * Source: as compareSpread.
 * Checked: tests/measures/comparison.test.ts
 */
export function compareFeedback(sets: TwoConditions, options: ComparisonOptions): MeasureContrast {
  const classes = classesOf(sets, options);
  if (isUnavailable(classes)) return unknownContrast(classes);
  const fault = reachFault(sets);
  if (fault) return unknownContrast(fault);
  const parts = (['smaller', 'larger'] as const).map((name) => {
    const reach = contactReach(sets[name]);
    const { accurate, fair, poor } = classes[name].rows;
    return [takeRows(reach, accurate), takeRows(reach, Int32Array.of(...fair, ...poor))] as const;
  }) as [readonly [Float64Array, Float64Array], readonly [Float64Array, Float64Array]];
  const cells = parts.flat();
  const have = Math.min(...cells.map((cell) => cell.length));
  const need = MEASURES.feedback.limits.minimumN;
  if (have < need) return unknownContrast({ reason: 'too-few', need, have });
  const all = Float64Array.from(cells.flatMap((cell) => [...cell]));
  const sizes = cells.map((cell) => cell.length);
  const groups = rowsByGroup(sizes) as [Int32Array, Int32Array, Int32Array, Int32Array];
  const first = spreadRatio(all, groups[0], groups[1]);
  if (isUnavailable(first)) return unknownContrast(first);
  const second = spreadRatio(all, groups[2], groups[3]);
  if (isUnavailable(second)) return unknownContrast(second);
  return {
    smaller: first,
    larger: second,
    contrast: logJackknifeInterval(sizes, (a, b, c, d) => {
      const [one, other] = [spreadRatio(all, a!, b!), spreadRatio(all, c!, d!)];
      if (isUnavailable(one)) return one;
      return isUnavailable(other) ? other : one / other;
    }),
    p: feedbackPermutation(parts, options),
  };
}

function feedbackPermutation(
  parts: readonly (readonly [Float64Array, Float64Array])[],
  options: ComparisonOptions,
): MeasureContrast['p'] {
  const rows = parts.map(([accurate, others]) => {
    // Geometric mean of the two spreads: the condition's own unit.
    const unit = Math.sqrt(checkedSd(accurate) * checkedSd(others));
    return [accurate, others].map((cell) => fromMedian(cell).map((x) => x / unit));
  });
  const distances = Float64Array.from(rows.flat().flatMap((cell) => [...cell]));
  const isAccurate = rows.flatMap((cells) =>
    cells.flatMap((cell, k) => [...cell].map(() => k === 0)),
  );
  const contrast = (group: Int32Array) =>
    logRatio(
      distances,
      group.filter((row) => isAccurate[row]),
      group.filter((row) => !isAccurate[row]),
    );
  const [first, second] = rows.map(([accurate, others]) => accurate!.length + others!.length);
  return permutationTest(first!, second!, (a, b) => contrast(a!) - contrast(b!), options);
}

/** First swing whose reach has a value missing, by its place in its condition. */
export function reachFault({ smaller, larger }: TwoConditions): Unavailable | null {
  for (const swings of [smaller, larger]) {
    const index = swings.findIndex(
      ({ reachCurveM, reachCurveNoiseM }) =>
        !(reachCurveM.every(Number.isFinite) && reachCurveNoiseM.every(Number.isFinite)),
    );
    if (index >= 0) return { reason: 'not-finite', index };
  }
  return null;
}

/** Distances from the median. */
function fromMedian(values: Float64Array): Float64Array {
  const median = quantileOfSorted(values.toSorted(), 0.5);
  return values.map((x) => Math.abs(x - median));
}

/** Logarithm of the mean of some rows over that of others; NaN when there are none or they are nothing. */
function logRatio(column: Float64Array, a: Int32Array, b: Int32Array): number {
  const sum = (rows: Int32Array) => rows.reduce((total, row) => total + column[row]!, 0);
  const ratio = sum(a) / a.length / (sum(b) / b.length);
  return ratio > 0 && ratio < Infinity ? Math.log(ratio) : Number.NaN;
}
