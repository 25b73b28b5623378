import { tQuantile, tTwoSidedP } from './distributions.ts';
import { CONFIDENCE, checkLevel, dataFault, type Estimate, type Unavailable } from './estimate.ts';
import { checkedCovariance } from './moments.ts';

/** Ratio of two paired variances, x over y, with the test that it is 1. */
export interface VarianceRatio extends Estimate {
  readonly t: number;
  readonly degreesOfFreedom: number;
  /** Two-sided. */
  readonly p: number;
}

// Correlations nearer to 1 than this are the same measurement twice: 1 - r^2 is rounding.
const LEAST_UNSHARED = 1e-12;

/**
 * Pitman-Morgan test of equal variances in paired data, with the interval of var(x)/var(y).
 *   F = var x / var y,  t = (F - 1) sqrt(n-2) / (2 sqrt(F (1 - r^2))),  n - 2 df
 *   F (K -+ sqrt(K^2 - 1)),  K = 1 + 2 (1 - r^2) t^2 / (n - 2)
 * Exact for bivariate normal data, too eager with heavy tails.
 * @param x, y rows of pairs, at least four
 * @returns the square root of value, low and high is the ratio of SDs; 'no-spread' when either
 *   column is constant, 'collinear' when one is a multiple of the other
 * @throws RangeError when the lengths differ
 * Source: Pitman 1939, doi 10.1093/biomet/31.1-2.9; Morgan 1939, doi 10.1093/biomet/31.1-2.13.
 * Checked: tests/statistics/pitman-morgan.test.ts
 */
export function pitmanMorgan(
  x: ArrayLike<number>,
  y: ArrayLike<number>,
  level = CONFIDENCE,
): VarianceRatio | Unavailable {
  checkLevel(level);
  const fault = dataFault(4, x, y);
  if (fault) return fault;
  const n = x.length;
  const varianceX = checkedCovariance(x, x);
  const varianceY = checkedCovariance(y, y);
  if (varianceX === 0 || varianceY === 0) return { reason: 'no-spread' };
  const unshared =
    1 - (checkedCovariance(x, y) / varianceX) * (checkedCovariance(x, y) / varianceY);
  if (unshared < LEAST_UNSHARED) return { reason: 'collinear' };
  const degreesOfFreedom = n - 2;
  const value = varianceX / varianceY;
  const t = ((value - 1) * Math.sqrt(degreesOfFreedom)) / (2 * Math.sqrt(value * unshared));
  const critical = tQuantile((1 + level) / 2, degreesOfFreedom);
  const k = 1 + (2 * unshared * critical ** 2) / degreesOfFreedom;
  const factor = k + Math.sqrt(k * k - 1);
  return {
    value,
    low: value / factor,
    high: value * factor,
    level,
    n,
    t,
    degreesOfFreedom,
    p: tTwoSidedP(t, degreesOfFreedom),
  };
}
