import { logGamma, normalQuantile } from './distributions.ts';
import { CONFIDENCE, checkLevel, type Estimate, groupFault, type Unavailable } from './estimate.ts';
import { checkedCovariance, checkedMean } from './moments.ts';

/**
 * Hedges' g: difference of two means in pooled SDs, a minus b, freed of small-sample bias.
 *   g = J (mean a - mean b)/s_pooled,  J = Gamma(m/2) / (sqrt(m/2) Gamma((m-1)/2)),  m = n_a + n_b - 2
 *   var g = J^2 ((n_a + n_b)/(n_a n_b) + d^2 / (2 (n_a + n_b)))
 * @param a, b independent groups, at least two values each
 * @returns with the normal interval g -+ z sqrt(var g); 'no-spread' when both groups are constant
 * Source: Hedges 1981, doi 10.3102/10769986006002107; variance: Borenstein et al. 2009, ch. 4.
 * Checked: tests/statistics/hedges-g.test.ts
 */
export function hedgesG(
  a: ArrayLike<number>,
  b: ArrayLike<number>,
  level = CONFIDENCE,
): Estimate | Unavailable {
  checkLevel(level);
  const fault = groupFault(2, [a, b]);
  if (fault) return fault;
  const n = a.length + b.length;
  const m = n - 2;
  const squares =
    (a.length - 1) * checkedCovariance(a, a) + (b.length - 1) * checkedCovariance(b, b);
  if (squares === 0) return { reason: 'no-spread' };
  const d = (checkedMean(a) - checkedMean(b)) / Math.sqrt(squares / m);
  const correction = Math.exp(logGamma(m / 2) - logGamma((m - 1) / 2)) / Math.sqrt(m / 2);
  const value = correction * d;
  const standardError = correction * Math.sqrt(n / (a.length * b.length) + (d * d) / (2 * n));
  const half = normalQuantile((1 + level) / 2) * standardError;
  return { value, low: value - half, high: value + half, level, n };
}
