import {
  type BootstrapOptions,
  checkResamples,
  FAILED_SHARE_ALLOWED,
  LEAST_BOOTSTRAP_ROWS,
  RESAMPLES,
} from './bootstrap-interval.ts';
import { tQuantile } from './distributions.ts';
import {
  CONFIDENCE,
  checkLevel,
  type Estimate,
  isUnavailable,
  type Unavailable,
} from './estimate.ts';
import { checkedMean, standardDeviation } from './moments.ts';
import { bootstrapReplications, type RowStatistic, rowsByGroup } from './resampling.ts';

/**
 * Interval of a positive statistic with a bias, such as a ratio to a maximum, by the bootstrap of its logarithm:
 *   exp(ln T - b +- t_df SE sqrt(m/(m - 1))),  b = mean ln T* - ln T,  SE the SD of ln T*,  df = m - 1
 * m rows in the smallest group: resamples of m rows spread by (m - 1)/m too little. Unlike the jackknife it sees the
 * doubt about which of several values is the largest.
 * @param groupSizes rows of each group, at least ten @param statistic see RowStatistic
 * @returns `value` is T itself, which a large bias may leave outside; 'no-spread' when T is not positive
 * @throws RangeError for a level or a number of resamples that makes no sense
 * Source: normal interval with bias correction: Davison & Hinkley 1997, section 5.2 (from memory).
 * Checked: tests/statistics/log-bootstrap-interval.test.ts; coverage: tests/measures/narrowing.test.ts
 */
export function logBootstrapInterval(
  groupSizes: readonly number[],
  statistic: RowStatistic,
  { seed, resamples = RESAMPLES, level = CONFIDENCE }: BootstrapOptions,
): Estimate | Unavailable {
  checkLevel(level);
  checkResamples(resamples);
  const have = Math.min(...groupSizes);
  if (have < LEAST_BOOTSTRAP_ROWS) return { reason: 'too-few', need: LEAST_BOOTSTRAP_ROWS, have };
  const value = statistic(...rowsByGroup(groupSizes));
  if (isUnavailable(value)) return value;
  if (!(value > 0 && value < Infinity)) return { reason: 'no-spread' };
  const logarithm: RowStatistic = (...groups) => {
    const found = statistic(...groups);
    return isUnavailable(found) ? found : Math.log(found);
  };
  const { values, failed } = bootstrapReplications(groupSizes, logarithm, resamples, seed);
  if (failed > FAILED_SHARE_ALLOWED * resamples)
    return { reason: 'unstable', failed, of: resamples };
  const spread = standardDeviation(values);
  if (isUnavailable(spread)) return spread;
  const centre = 2 * Math.log(value) - checkedMean(values);
  const half = tQuantile((1 + level) / 2, have - 1) * spread * Math.sqrt(have / (have - 1));
  const n = groupSizes.reduce((sum, size) => sum + size, 0);
  return { value, low: Math.exp(centre - half), high: Math.exp(centre + half), level, n };
}
