import { chiSquareQuantile } from './distributions.ts';
import { CONFIDENCE, checkLevel, dataFault, type Estimate, type Unavailable } from './estimate.ts';
import { checkedCovariance } from './moments.ts';

/**
 * Standard deviation with the interval that holds for normal data,
 * s sqrt((n-1)/chi2_hi) to s sqrt((n-1)/chi2_lo).
 * Heavy tails make it too narrow: spreadInterval does not take the data for normal.
 * @param values at least two, not all alike
 * Source: NIST/SEMATECH e-Handbook 7.2.3.1.  Checked: tests/statistics/sd-interval.test.ts
 */
export function sdInterval(values: ArrayLike<number>, level = CONFIDENCE): Estimate | Unavailable {
  checkLevel(level);
  const fault = dataFault(2, values);
  if (fault) return fault;
  const n = values.length;
  const value = Math.sqrt(checkedCovariance(values, values));
  if (value === 0) return { reason: 'no-spread' };
  const end = (p: number) => value * Math.sqrt((n - 1) / chiSquareQuantile(p, n - 1));
  return { value, low: end((1 + level) / 2), high: end((1 - level) / 2), level, n };
}
