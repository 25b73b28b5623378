import { normalQuantile, tTwoSidedP } from './distributions.ts';
import { CONFIDENCE, checkLevel, dataFault, type Estimate, type Unavailable } from './estimate.ts';
import { checkedCovariance } from './moments.ts';

/** A correlation, its interval and the p value of "no linear relation". */
export interface Correlation extends Estimate {
  readonly p: number;
}

/**
 * Pearson's r, without interval: the form for resampling.
 * @param x, y rows of two columns, at least two
 * @throws RangeError when the lengths differ
 */
export function pearson(x: ArrayLike<number>, y: ArrayLike<number>): number | Unavailable {
  const fault = dataFault(2, x, y);
  if (fault) return fault;
  const spread = Math.sqrt(checkedCovariance(x, x) * checkedCovariance(y, y));
  if (spread === 0) return { reason: 'no-spread' };
  return Math.max(-1, Math.min(1, checkedCovariance(x, y) / spread));
}

/**
 * Pearson's r with Fisher's interval, tanh(atanh r +- z/sqrt(n-3)), and p from t, n - 2 df.
 * A perfect correlation has the interval [r, r].
 * @param x, y rows of two columns, at least four
 * @throws RangeError when the lengths differ
 * Source: Fisher 1921, Metron 1:3.  Checked: tests/statistics/correlation.test.ts
 */
export function correlation(
  x: ArrayLike<number>,
  y: ArrayLike<number>,
  level = CONFIDENCE,
): Correlation | Unavailable {
  checkLevel(level);
  const fault = dataFault(4, x, y);
  if (fault) return fault;
  const value = pearson(x, y);
  if (typeof value !== 'number') return value;
  const n = x.length;
  const z = Math.atanh(value);
  const half = normalQuantile((1 + level) / 2) / Math.sqrt(n - 3);
  const t = value * Math.sqrt((n - 2) / (1 - value * value));
  return {
    value,
    low: Math.tanh(z - half),
    high: Math.tanh(z + half),
    level,
    n,
    p: tTwoSidedP(t, n - 2),
  };
}
