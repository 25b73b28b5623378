import { tQuantile } from './distributions.ts';
import { CONFIDENCE, checkLevel, dataFault, type Estimate, type Unavailable } from './estimate.ts';
import { checkedCovariance, checkedMean } from './moments.ts';

/**
 * Mean with Student's interval, mean +- t s / sqrt(n).
 * @param values at least two, roughly normal or many
 * Source: Student 1908.  Checked: tests/statistics/mean-interval.test.ts
 */
export function meanInterval(
  values: ArrayLike<number>,
  level = CONFIDENCE,
): Estimate | Unavailable {
  checkLevel(level);
  const fault = dataFault(2, values);
  if (fault) return fault;
  const n = values.length;
  const value = checkedMean(values);
  const standardError = Math.sqrt(checkedCovariance(values, values) / n);
  const half = tQuantile((1 + level) / 2, n - 1) * standardError;
  return { value, low: value - half, high: value + half, level, n };
}
