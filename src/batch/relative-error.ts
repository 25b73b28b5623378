import { wrapAngle } from '../core/maths/angles.ts';
import {
  conjugate,
  multiply,
  type Quaternion,
  quaternion,
  quaternionAngle,
} from '../core/maths/quaternion.ts';

/** How far an estimated relative orientation is from the true one, rad. */
export interface RelativeError {
  readonly angle: number;
  /** The turn about the vertical that brings it closest to the truth. */
  readonly heading: number;
  /** What is left after that turn. */
  readonly tilt: number;
}

/**
 * Splits the difference into a turn about the vertical and the rest: of e = q theirs ours* q* the turn that comes
 * closest is 2 atan2(z, w) and leaves 2 acos sqrt(w^2 + z^2) (the split of the BROAD metric).
 * @param qEarthFromAbove of the sensor or segment above the joint @param ours, theirs qAboveFromBelow
 * Source: Laidig, Caruso, Cereatti & Seel 2021, doi 10.3390/data6070072. Checked: tests/batch/compare.test.ts.
 */
export function relativeError(
  qEarthFromAbove: Quaternion,
  ours: Quaternion,
  theirs: Quaternion,
): RelativeError {
  const toTheirs = multiply(quaternion(), theirs, conjugate(quaternion(), ours));
  const e = multiply(quaternion(), qEarthFromAbove, toTheirs);
  multiply(e, e, conjugate(quaternion(), qEarthFromAbove));
  return {
    angle: quaternionAngle(ours, theirs),
    heading: wrapAngle(2 * Math.atan2(e[3]!, e[0]!)),
    tilt: 2 * Math.acos(Math.min(1, Math.hypot(e[0]!, e[3]!))),
  };
}

/** Root mean square. */
export function rms(values: readonly number[]): number {
  return Math.sqrt(values.reduce((sum, v) => sum + v * v, 0) / values.length);
}
