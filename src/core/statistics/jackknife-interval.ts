import { tQuantile } from './distributions.ts';
import {
  CONFIDENCE,
  checkLevel,
  type Estimate,
  isUnavailable,
  type Unavailable,
} from './estimate.ts';
import { checkedMean } from './moments.ts';
import { jackknifeReplications, type RowStatistic, rowsByGroup } from './resampling.ts';

/**
 * Student's interval from the jackknife standard error:
 *   value +- t sqrt((n - 1)/n sum (v_(i) - mean v)^2),  n - 1 df
 * For statistics that rows drawn twice would upset, as counts of different things do. Of many rows n counts the parts
 * that jackknifeReplications leaves out.
 * @param n rows, at least two @param statistic of all rows, and of all but one
 * @returns 'unstable' when some row cannot be left out
 * Source: Tukey 1958; Efron & Tibshirani 1993, ch. 11.
 * Checked: tests/statistics/jackknife-interval.test.ts
 */
export function jackknifeInterval(
  n: number,
  statistic: RowStatistic,
  level = CONFIDENCE,
): Estimate | Unavailable {
  checkLevel(level);
  if (n < 2) return { reason: 'too-few', need: 2, have: n };
  const value = statistic(rowsByGroup([n])[0]!);
  if (isUnavailable(value)) return value;
  const { values, failed } = jackknifeReplications([n], statistic, 0);
  if (failed > 0 || !Number.isFinite(value)) return { reason: 'unstable', failed, of: n };
  const centre = checkedMean(values);
  const squares = values.reduce((sum, other) => sum + (other - centre) ** 2, 0);
  const runs = values.length;
  const half = tQuantile((1 + level) / 2, runs - 1) * Math.sqrt(((runs - 1) / runs) * squares);
  return { value, low: value - half, high: value + half, level, n };
}
