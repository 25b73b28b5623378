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

/** A variance needs two rows, and one is left out. */
const LEAST_ROWS = 3;

/**
 * Interval of a positive statistic (a variance, an SD, a ratio of them) of independent groups, by the
 * jackknife of its logarithm:
 *   exp(ln T +- t_df SE),  SE^2 = sum_g SE_g^2,  SE_g^2 = (m - 1)/m sum_i (ln T_(i) - mean)^2
 *   df = SE^4 / sum_g (SE_g^4 / (m - 1)),  m rows in group g
 * For spreads of a few dozen rows it holds its level better than the bootstrap, and it does not take the data
 * for normal.
 * @param groupSizes rows of each group, at least three @param statistic see RowStatistic
 * @returns 'no-spread' when the statistic is not positive, 'unstable' when some row cannot be left out
 * Source: Miller 1968, doi 10.1214/aoms/1177698418; df: Satterthwaite 1946, Welch 1947 (all from memory).
 * Checked: tests/statistics/log-jackknife-interval.test.ts
 */
export function logJackknifeInterval(
  groupSizes: readonly number[],
  statistic: RowStatistic,
  level = CONFIDENCE,
): Estimate | Unavailable {
  checkLevel(level);
  const have = Math.min(...groupSizes);
  if (have < LEAST_ROWS) return { reason: 'too-few', need: LEAST_ROWS, have };
  const value = statistic(...rowsByGroup(groupSizes));
  if (isUnavailable(value)) return value;
  if (!(value > 0 && value < Infinity)) return { reason: 'no-spread' };
  let square = 0;
  let byDf = 0;
  for (const [group, size] of groupSizes.entries()) {
    const { values, failed } = jackknifeReplications(groupSizes, statistic, group);
    const positive = values.every((x) => x > 0);
    if (failed > 0 || !positive)
      return { reason: 'unstable', failed: Math.max(1, failed), of: size };
    const logs = values.map(Math.log);
    const centre = checkedMean(logs);
    const runs = logs.length;
    const own = logs.reduce((sum, x) => sum + (x - centre) ** 2, 0) * ((runs - 1) / runs);
    square += own;
    byDf += own ** 2 / (runs - 1);
  }
  const n = groupSizes.reduce((sum, size) => sum + size, 0);
  const half =
    square === 0 ? 0 : tQuantile((1 + level) / 2, square ** 2 / byDf) * Math.sqrt(square);
  return { value, low: value * Math.exp(-half), high: value * Math.exp(half), level, n };
}
