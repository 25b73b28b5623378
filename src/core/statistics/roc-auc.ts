import { normalQuantile } from './distributions.ts';
import { CONFIDENCE, checkLevel, type Estimate, groupFault, type Unavailable } from './estimate.ts';
import { checkedCovariance, checkedMean } from './moments.ts';

/**
 * Area under the ROC curve: the chance that a value of the positive class exceeds one of the
 * negative class, ties counting half; with DeLong's interval, cut at 0 and 1.
 * @param negatives, positives at least two each
 * @returns 'separated' with the area when the classes do not overlap (0 or 1), where the variance
 *   formula would claim certainty; 'no-spread' when all values are alike
 * Source: DeLong, DeLong & Clarke-Pearson 1988, doi 10.2307/2531595.
 * Checked: tests/statistics/roc-auc.test.ts
 */
export function rocAuc(
  negatives: ArrayLike<number>,
  positives: ArrayLike<number>,
  level = CONFIDENCE,
): Estimate | Unavailable {
  checkLevel(level);
  const fault = groupFault(2, [negatives, positives]);
  if (fault) return fault;
  const above = Float64Array.from(positives, (value) => shareBelow(negatives, value));
  const below = Float64Array.from(negatives, (value) => 1 - shareBelow(positives, value));
  const value = checkedMean(above);
  if (value === 0 || value === 1) return { reason: 'separated', value };
  const standardError = Math.sqrt(
    checkedCovariance(above, above) / positives.length +
      checkedCovariance(below, below) / negatives.length,
  );
  if (standardError === 0) return { reason: 'no-spread' };
  const half = normalQuantile((1 + level) / 2) * standardError;
  return {
    value,
    low: Math.max(0, value - half),
    high: Math.min(1, value + half),
    level,
    n: negatives.length + positives.length,
  };
}

function shareBelow(values: ArrayLike<number>, limit: number): number {
  let count = 0;
  for (let i = 0; i < values.length; i++)
    count += values[i]! < limit ? 1 : values[i] === limit ? 0.5 : 0;
  return count / values.length;
}
