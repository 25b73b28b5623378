import { type CovarianceEllipse, populationEllipse } from './covariance-ellipse.ts';
import { chiSquareQuantile } from './distributions.ts';
import { CONFIDENCE, checkLevel, type Estimate } from './estimate.ts';

/**
 * Area of the ellipse that holds a share of a normal population, with its exact interval:
 * for normal points 2 (n-1) sqrt(|S|/|Sigma|) follows chi^2 with 2n - 4 df, so that the area of the sample's
 * own ellipse is too small by (n-2)/(n-1) on average; `value` has this taken out.
 * @param ellipse of at least three points @param coverage e.g. 0.95
 * @throws RangeError unless 0 < coverage < 1 and 0 < level < 1
 * Source: Hoel 1937, Ann. Math. Stat. 8:149; Anderson 2003, section 7.5 (both from memory).
 * Checked: tests/statistics/ellipse-area-interval.test.ts
 */
export function ellipseAreaInterval(
  ellipse: CovarianceEllipse,
  coverage: number,
  level = CONFIDENCE,
): Estimate {
  checkLevel(level);
  const { n } = ellipse;
  const { area } = populationEllipse(ellipse, coverage);
  const end = (p: number) => (area * 2 * (n - 1)) / chiSquareQuantile(p, 2 * n - 4);
  return {
    value: (area * (n - 1)) / (n - 2),
    low: end((1 + level) / 2),
    high: end((1 - level) / 2),
    level,
    n,
  };
}
