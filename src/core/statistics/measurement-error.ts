import { correlation } from './correlation.ts';
import { normalQuantile } from './distributions.ts';
import { CONFIDENCE, checkLevel, type Estimate, type Unavailable } from './estimate.ts';
import { spearmanBrown } from './intraclass-correlation.ts';

/**
 * Split-half reliability: the correlation of two halves and its Fisher interval, raised to full
 * length by Spearman-Brown. Halves that correlate negatively have reliability 0.
 * @param firstHalf, secondHalf the measure of each set from one and the other half of its swings
 *   (odd and even, so that a trend falls on both); at least four sets
 * @throws RangeError when the lengths differ
 * Source: Spearman 1910; Brown 1910.  Checked: tests/statistics/measurement-error.test.ts
 */
export function splitHalfReliability(
  firstHalf: ArrayLike<number>,
  secondHalf: ArrayLike<number>,
  level = CONFIDENCE,
): Estimate | Unavailable {
  const halves = correlation(firstHalf, secondHalf, level);
  if ('reason' in halves) return halves;
  const whole = (r: number) => spearmanBrown(Math.max(0, r), 2);
  const { value, low, high, n } = halves;
  return { value: whole(value), low: whole(low), high: whole(high), level, n };
}

/**
 * Standard error of measurement, SD sqrt(1 - reliability), in the unit of the SD.
 * @param sd between the measured (sets or players), of the same data as the reliability
 * @param reliability an ICC or split-half coefficient, 0 to 1
 * @throws RangeError outside these
 * Source: Weir 2005, J Strength Cond Res 19:231.  Checked: tests/statistics/measurement-error.test.ts
 */
export function standardErrorOfMeasurement(sd: number, reliability: number): number {
  if (!(sd >= 0 && reliability >= 0 && reliability <= 1))
    throw new RangeError(
      `SD ${sd} and reliability ${reliability}: give an SD from 0 and a reliability from 0 to 1`,
    );
  return sd * Math.sqrt(1 - reliability);
}

/**
 * Smallest change between two measurements that exceeds their error, z sqrt(2) SEM.
 * @throws RangeError for a negative SEM
 * Source: Weir 2005, J Strength Cond Res 19:231.  Checked: tests/statistics/measurement-error.test.ts
 */
export function smallestDetectableChange(sem: number, level = CONFIDENCE): number {
  checkLevel(level);
  if (!(sem >= 0)) throw new RangeError(`Standard error of measurement ${sem}: give 0 or more`);
  return normalQuantile((1 + level) / 2) * Math.SQRT2 * sem;
}
