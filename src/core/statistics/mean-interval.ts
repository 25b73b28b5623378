import { tQuantile } from './distributions.ts';
import {
  CONFIDENCE,
  checkLevel,
  dataFault,
  type Estimate,
  isUnavailable,
  type Unavailable,
} from './estimate.ts';
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

/** What rounding leaves between the ends of an interval of values that are all alike, as a share of them. */
const ROUNDING = 1e-12;

/**
 * The same, or 'no-spread': values all alike would claim certainty.
 * Checked: tests/measures/score.test.ts
 */
export function variedMean(values: ArrayLike<number>): Estimate | Unavailable {
  const answer = meanInterval(values);
  if (isUnavailable(answer)) return answer;
  const { value, low, high } = answer;
  return high - low > ROUNDING * Math.abs(value) ? answer : { reason: 'no-spread' };
}
