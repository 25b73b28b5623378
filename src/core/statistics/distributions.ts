import logGammaOf from '@stdlib/math-base-special-gammaln';
import chiSquareQuantileOf from '@stdlib/stats-base-dists-chisquare-quantile';
import fCdf from '@stdlib/stats-base-dists-f-cdf';
import fQuantileOf from '@stdlib/stats-base-dists-f-quantile';
import standardCdf from '@stdlib/stats-base-dists-normal-cdf';
import standardQuantile from '@stdlib/stats-base-dists-normal-quantile';
import tCdf from '@stdlib/stats-base-dists-t-cdf';
import tQuantileOf from '@stdlib/stats-base-dists-t-quantile';

// The one place that knows the library (stdlib-js). Tails are asked for on their own side, since
// 1 - cdf loses small p values.
// Checked: tests/statistics/distributions.test.ts, against scipy on a grid.

/** Phi(z), the standard normal distribution function. */
export function normalCdf(z: number): number {
  return standardCdf(z, 0, 1);
}

/** z with Phi(z) = p, p in [0, 1]. */
export function normalQuantile(p: number): number {
  return standardQuantile(p, 0, 1);
}

/** Two-sided p value of Student's t, P(|T| >= |t|). */
export function tTwoSidedP(t: number, degreesOfFreedom: number): number {
  return 2 * tCdf(-Math.abs(t), degreesOfFreedom);
}

export function tQuantile(p: number, degreesOfFreedom: number): number {
  return tQuantileOf(p, degreesOfFreedom);
}

/** Upper tail of Fisher's F, P(F >= f), f >= 0; through 1/F, whose lower tail it is. */
export function fUpperP(f: number, df1: number, df2: number): number {
  return fCdf(1 / f, df2, df1);
}

export function fQuantile(p: number, df1: number, df2: number): number {
  return fQuantileOf(p, df1, df2);
}

export function chiSquareQuantile(p: number, degreesOfFreedom: number): number {
  return chiSquareQuantileOf(p, degreesOfFreedom);
}

/** ln Gamma(x), x > 0. */
export function logGamma(x: number): number {
  return logGammaOf(x);
}
