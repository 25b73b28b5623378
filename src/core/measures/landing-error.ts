import type { Estimate, Unavailable } from '../statistics/estimate.ts';
import { logJackknifeInterval } from '../statistics/log-jackknife-interval.ts';
import { variedMean } from '../statistics/mean-interval.ts';
import { checkedCovariance } from '../statistics/moments.ts';
import { takeRows } from '../statistics/resampling.ts';
import { spreadInterval } from '../statistics/spread-interval.ts';
import type { MeasuredSwing } from './measured-swing.ts';

type Answer = Estimate | Unavailable;

/** Errors along one direction, metres. */
export interface AxisError {
  /** Mean with its sign: where the balls land on average. */
  readonly constantM: Answer;
  /** SD about that mean: how much they scatter. */
  readonly variableM: Answer;
  /** Mean distance from the target along this direction. */
  readonly absoluteM: Answer;
}

/** Where balls land, against the middle of the target. */
export interface LandingError {
  /** Swings with a landing point. */
  readonly n: number;
  /** Beyond the middle, away from the player. */
  readonly beyond: AxisError;
  readonly left: AxisError;
  /** Mean distance from the middle, in the plane: the absolute error of two dimensions. */
  readonly radialM: Answer;
  /** Bivariate variable error: scatter about the mean landing point. */
  readonly bivariateVariableM: Answer;
}

/**
 * Errors of the landing points. Variable errors have the denominator n - 1, so that sets of different size
 * compare; Hancock et al. divide by n. With theirs, mean squared distance from the target = (distance of the
 * mean point)^2 + (bivariate variable error)^2.
 * @param swings those without a landing point are left out; at least two with one
 * Source: Hancock, Butler & Fischman 1995, doi 10.1080/00222895.1995.9941714 (from memory).
 * Checked: tests/measures/landing-error.test.ts
 */
export function landingError(
  swings: readonly Pick<MeasuredSwing, 'landingM'>[],
): LandingError | Unavailable {
  const points = swings.flatMap(({ landingM }) => (landingM ? [landingM] : []));
  const n = points.length;
  if (n < 2) return { reason: 'too-few', need: 2, have: n };
  const beyond = Float64Array.from(points, ([x]) => x);
  const left = Float64Array.from(points, ([, y]) => y);
  const scatter = (rows: Int32Array) => {
    const [x, y] = [takeRows(beyond, rows), takeRows(left, rows)];
    return Math.sqrt(checkedCovariance(x, x) + checkedCovariance(y, y));
  };
  return {
    n,
    beyond: axisError(beyond),
    left: axisError(left),
    radialM: variedMean(points.map(([x, y]) => Math.hypot(x, y))),
    bivariateVariableM: logJackknifeInterval([n], scatter),
  };
}

function axisError(errors: Float64Array): AxisError {
  return {
    constantM: variedMean(errors),
    variableM: spreadInterval(errors),
    absoluteM: variedMean(errors.map(Math.abs)),
  };
}
