import { tQuantile } from './distributions.ts';
import { CONFIDENCE, checkLevel, type Estimate, groupFault, type Unavailable } from './estimate.ts';
import { checkedCovariance, checkedMean } from './moments.ts';

/**
 * Difference of two means, a minus b, groups of unequal spread allowed:
 *   value +- t_df SE,  SE^2 = s_a^2/n_a + s_b^2/n_b,  df = SE^4 / sum (s^2/n)^2/(n - 1)
 * @param a, b independent groups, at least two values each
 * @returns `n` is the number of values in both; 'no-spread' when both groups are constant
 * Source: Welch 1947, doi 10.1093/biomet/34.1-2.28 (doi from memory).
 * Checked: tests/statistics/welch-difference.test.ts
 */
export function welchDifference(
  a: ArrayLike<number>,
  b: ArrayLike<number>,
  level = CONFIDENCE,
): Estimate | Unavailable {
  checkLevel(level);
  const fault = groupFault(2, [a, b]);
  if (fault) return fault;
  const parts = [a, b].map((group) => checkedCovariance(group, group) / group.length);
  const square = parts[0]! + parts[1]!;
  const value = checkedMean(a) - checkedMean(b);
  const scale = Math.max(Math.abs(checkedMean(a)), Math.abs(checkedMean(b)));
  if (Math.sqrt(square) <= ROUNDING * scale) return { reason: 'no-spread' };
  const df = square ** 2 / (parts[0]! ** 2 / (a.length - 1) + parts[1]! ** 2 / (b.length - 1));
  const half = tQuantile((1 + level) / 2, df) * Math.sqrt(square);
  return { value, low: value - half, high: value + half, level, n: a.length + b.length };
}

/** A standard error below this share of the means is rounding: values that are all alike. */
const ROUNDING = 1e-12;

/**
 * The same difference over its standard error, for a permutation test: then groups of unequal spread or size
 * do not upset it.
 * @param a, b at least two values each, finite
 * @returns 0 when the means agree; 'no-spread' when both groups are constant and differ
 * Source: Janssen 1997, doi 10.1016/S0167-7152(97)00043-6 (from memory).
 * Checked: tests/measures/comparison.test.ts
 */
export function welchStatistic(a: ArrayLike<number>, b: ArrayLike<number>): number | Unavailable {
  const square = checkedCovariance(a, a) / a.length + checkedCovariance(b, b) / b.length;
  const difference = checkedMean(a) - checkedMean(b);
  if (difference === 0) return 0;
  return square > 0 ? difference / Math.sqrt(square) : { reason: 'no-spread' };
}
