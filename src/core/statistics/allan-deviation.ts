import { dataFault, type Unavailable } from './estimate.ts';
import { checkedMean } from './moments.ts';

/**
 * Allan deviation of a rate, sigma^2(tau) = <(y_{k+1} - y_k)^2> / 2 over neighbouring means y_k of `averaged`
 * samples each, tau = averaged times the sampling interval: how unsteady a resting sensor is over a time tau.
 * White noise of one-sided density d, as data sheets give it, has sigma(tau) = d / sqrt(2 tau): d is
 * sqrt(2) sigma(1 s) while bias drift and quantisation are smaller. (The angle random walk N of IEEE Std 952 is
 * sigma(1 s) itself, from memory.)
 * @param rates evenly sampled, no gaps, at least 2 * averaged; any unit
 * @param averaged samples per mean, a whole number
 * @returns in the unit of `rates`
 * @throws RangeError unless averaged is a whole number of at least 1
 * Source: Riley 2008, Handbook of Frequency Stability Analysis, NIST Special Publication 1065.
 * Checked: tests/statistics/allan-deviation.test.ts, test data of that handbook.
 */
export function allanDeviation(rates: ArrayLike<number>, averaged: number): number | Unavailable {
  return overDifferences(rates, averaged, averaged);
}

/**
 * Overlapping Allan deviation: as {@link allanDeviation}, but a mean begins at every sample, which makes the
 * most of a short recording.
 * @param rates evenly sampled, no gaps, at least 2 * averaged; any unit
 * @param averaged samples per mean, a whole number
 * @returns in the unit of `rates`
 * @throws RangeError unless averaged is a whole number of at least 1
 * Source: Riley 2008, NIST Special Publication 1065.
 * Checked: tests/statistics/allan-deviation.test.ts, test data of that handbook.
 */
export function overlappingAllanDeviation(
  rates: ArrayLike<number>,
  averaged: number,
): number | Unavailable {
  return overDifferences(rates, averaged, 1);
}

/** @param stride samples from one pair of neighbouring means to the next */
function overDifferences(
  rates: ArrayLike<number>,
  averaged: number,
  stride: number,
): number | Unavailable {
  if (!(Number.isInteger(averaged) && averaged >= 1)) {
    throw new RangeError(`Allan deviation: averaged must be 1, 2, 3, ... samples, got ${averaged}`);
  }
  const fault = dataFault(2 * averaged, rates);
  if (fault) return fault;
  const sums = sumsFromStart(rates);
  let squares = 0;
  let pairs = 0;
  for (let at = 0; at + 2 * averaged <= rates.length; at += stride) {
    const difference = sums[at + 2 * averaged]! - 2 * sums[at + averaged]! + sums[at]!;
    squares += difference * difference;
    pairs++;
  }
  return Math.sqrt(squares / (2 * pairs)) / averaged;
}

/** Sum of everything before each sample; the mean is taken off first, so that a bias costs no digits. */
function sumsFromStart(rates: ArrayLike<number>): Float64Array {
  const centre = checkedMean(rates);
  const sums = new Float64Array(rates.length + 1);
  for (let i = 0; i < rates.length; i++) sums[i + 1] = sums[i]! + (rates[i]! - centre);
  return sums;
}
