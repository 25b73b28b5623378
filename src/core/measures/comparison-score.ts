import {
  dataFault,
  type Estimate,
  isUnavailable,
  type Unavailable,
} from '../statistics/estimate.ts';
import { independentDifference } from '../statistics/independent-difference.ts';
import { mean } from '../statistics/moments.ts';
import { permutationTest } from '../statistics/permutation-test.ts';
import { takeRows } from '../statistics/resampling.ts';
import { welchDifference, welchStatistic } from '../statistics/welch-difference.ts';
import { wilsonInterval } from '../statistics/wilson-interval.ts';
import { type AccuracyClasses, classifyByScore } from './accuracy-classes.ts';
import {
  type ComparisonOptions,
  type MeasureContrast,
  type TwoConditions,
  unknownContrast,
} from './comparison-measure.ts';

/**
 * Mean points, smaller less larger: Welch's interval, permutation of Welch's t.
 * @returns 'no-spread' when all balls score alike
 * Source: Welch 1947, see welchDifference; Janssen 1997, see welchStatistic.
 * Checked: tests/measures/comparison.test.ts
 */
export function compareScore(sets: TwoConditions, options: ComparisonOptions): MeasureContrast {
  const classes = classesOf(sets, options);
  if (isUnavailable(classes)) return unknownContrast(classes);
  return compareMeans(classes.smaller.points, classes.larger.points, options);
}

/**
 * Share of accurate balls, smaller less larger: Newcombe's interval, permutation.
 * Source: Newcombe 1998, see independentDifference.  Checked: tests/measures/comparison.test.ts
 */
export function compareHitRate(sets: TwoConditions, options: ComparisonOptions): MeasureContrast {
  const classes = classesOf(sets, options);
  if (isUnavailable(classes)) return unknownContrast(classes);
  const [smaller, larger] = [classes.smaller, classes.larger].map(({ rows, points }) =>
    wilsonInterval(rows.accurate.length, points.length),
  ) as [Estimate | Unavailable, Estimate | Unavailable];
  if (isUnavailable(smaller)) return unknownContrast(smaller);
  if (isUnavailable(larger)) return unknownContrast(larger);
  const hits = [classes.smaller, classes.larger].flatMap(({ points }) =>
    Array.from(points, (x) => (x >= options.thresholds.accurateFrom ? 1 : 0)),
  );
  return {
    smaller: smaller.value,
    larger: larger.value,
    contrast: independentDifference(smaller, larger),
    p: permutationTest(smaller.n, larger.n, (a, b) => share(hits, a!) - share(hits, b!), options),
  };
}

/**
 * Speed of the sweet spot at contact, m/s, smaller less larger.
 * Source, Checked: as compareScore.
 */
export function compareSpeed(sets: TwoConditions, options: ComparisonOptions): MeasureContrast {
  const [smaller, larger] = [sets.smaller, sets.larger].map((swings) =>
    Float64Array.from(swings, ({ contactSpeedMS }) => contactSpeedMS),
  ) as [Float64Array, Float64Array];
  return compareMeans(smaller, larger, options);
}

/** Classes of both conditions. */
export function classesOf(
  { smaller, larger }: TwoConditions,
  { thresholds }: ComparisonOptions,
): { readonly smaller: AccuracyClasses; readonly larger: AccuracyClasses } | Unavailable {
  const first = classifyByScore(smaller, thresholds);
  if (isUnavailable(first)) return first;
  const second = classifyByScore(larger, thresholds);
  return isUnavailable(second) ? second : { smaller: first, larger: second };
}

function compareMeans(
  smaller: Float64Array,
  larger: Float64Array,
  options: ComparisonOptions,
): MeasureContrast {
  const both = Float64Array.of(...smaller, ...larger);
  const statistic = (a: Int32Array, b: Int32Array) =>
    welchStatistic(takeRows(both, a), takeRows(both, b));
  const contrast = welchDifference(smaller, larger);
  return {
    smaller: mean(smaller),
    larger: mean(larger),
    contrast,
    p:
      dataFault(0, both) ??
      (isUnavailable(contrast)
        ? contrast
        : permutationTest(smaller.length, larger.length, (a, b) => statistic(a!, b!), options)),
  };
}

function share(hits: readonly number[], rows: Int32Array): number {
  return rows.reduce((sum, row) => sum + hits[row]!, 0) / rows.length;
}
