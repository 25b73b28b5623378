import { chiSquareQuantile, fQuantile } from './distributions.ts';
import { checkLevel, dataFault, type Unavailable } from './estimate.ts';
import { checkedCovariance, checkedMean } from './moments.ts';

/** Principal axes of a cloud of points in a plane. */
export interface CovarianceEllipse {
  readonly n: number;
  readonly centreX: number;
  readonly centreY: number;
  /** SD along the major and the minor axis. */
  readonly majorSd: number;
  readonly minorSd: number;
  /** Of the major axis from the x axis, radians in (-pi/2, pi/2]. */
  readonly angleRad: number | Unavailable;
}

/** Half lengths of an ellipse, and its area. */
export interface EllipseSize {
  readonly semiMajor: number;
  readonly semiMinor: number;
  readonly area: number;
}

const LEAST_PREDICTION_POINTS = 3;

/**
 * Mean and principal axes from the sample covariance (n - 1); axes have no direction when the
 * spread is the same all round.
 * @param x, y coordinates of the points, at least three; 'no-spread' when all are one point
 * @throws RangeError when the lengths differ
 * Source: eigenvectors of a symmetric 2 x 2 matrix, tan 2a = 2 s_xy/(s_xx - s_yy).
 * Checked: tests/statistics/covariance-ellipse.test.ts
 */
export function covarianceEllipse(
  x: ArrayLike<number>,
  y: ArrayLike<number>,
): CovarianceEllipse | Unavailable {
  const fault = dataFault(LEAST_PREDICTION_POINTS, x, y);
  if (fault) return fault;
  const xx = checkedCovariance(x, x);
  const yy = checkedCovariance(y, y);
  const xy = checkedCovariance(x, y);
  if (xx + yy === 0) return { reason: 'no-spread' };
  const halfDifference = Math.hypot((xx - yy) / 2, xy);
  const major = (xx + yy) / 2 + halfDifference;
  // The product of the eigenvalues keeps digits that their difference loses on a thin ellipse.
  const minor = Math.max(0, (xx * yy - xy * xy) / major);
  return {
    n: x.length,
    centreX: checkedMean(x),
    centreY: checkedMean(y),
    majorSd: Math.sqrt(major),
    minorSd: Math.sqrt(minor),
    angleRad:
      halfDifference <= Number.EPSILON * major
        ? { reason: 'no-direction' }
        : Math.atan2(2 * xy, xx - yy) / 2,
  };
}

/**
 * Ellipse that holds the given share of a normal population with exactly these axes:
 * semi-axis^2 = chi2_coverage(2) lambda. From few points it is too small on average.
 * @throws RangeError unless 0 < coverage < 1
 * Source: chi-square of two normal coordinates.  Checked: tests/statistics/covariance-ellipse.test.ts
 */
export function populationEllipse(ellipse: CovarianceEllipse, coverage: number): EllipseSize {
  checkLevel(coverage);
  return scaled(ellipse, chiSquareQuantile(coverage, 2));
}

/**
 * Ellipse that holds the next point with the given probability, n points seen:
 * semi-axis^2 = 2 (n-1)(n+1)/(n (n-2)) F_coverage(2, n-2) lambda.
 * @throws RangeError unless 0 < coverage < 1
 * Source: Chew 1966, doi 10.1080/01621459.1966.10480892.
 * Checked: tests/statistics/covariance-ellipse.test.ts
 */
export function predictionEllipse(ellipse: CovarianceEllipse, coverage: number): EllipseSize {
  checkLevel(coverage);
  const { n } = ellipse;
  return scaled(ellipse, ((2 * (n * n - 1)) / (n * (n - 2))) * fQuantile(coverage, 2, n - 2));
}

/**
 * Angle between the major axes of two ellipses, which have no head and tail: radians in [0, pi/2].
 */
export function angleBetweenAxes(a: CovarianceEllipse, b: CovarianceEllipse): number | Unavailable {
  if (typeof a.angleRad !== 'number') return a.angleRad;
  if (typeof b.angleRad !== 'number') return b.angleRad;
  const turn = Math.abs(a.angleRad - b.angleRad) % Math.PI;
  return Math.min(turn, Math.PI - turn);
}

function scaled(ellipse: CovarianceEllipse, square: number): EllipseSize {
  const semiMajor = Math.sqrt(square) * ellipse.majorSd;
  const semiMinor = Math.sqrt(square) * ellipse.minorSd;
  return { semiMajor, semiMinor, area: Math.PI * semiMajor * semiMinor };
}
