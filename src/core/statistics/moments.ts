import { dataFault, type Unavailable } from './estimate.ts';

// Two passes with the residue of the first taken out in the second: exact to rounding where the
// one-pass formula loses every digit (Chan, Golub & LeVeque 1983, doi 10.1080/00031305.1983.10483115).

/**
 * Arithmetic mean.
 * @param values at least one
 * Checked: tests/statistics/moments.test.ts, NIST StRD.
 */
export function mean(values: ArrayLike<number>): number | Unavailable {
  return dataFault(1, values) ?? checkedMean(values);
}

/**
 * Sample variance, denominator n - 1.
 * @param values at least two; all alike give 0
 * Checked: tests/statistics/moments.test.ts, NIST StRD.
 */
export function variance(values: ArrayLike<number>): number | Unavailable {
  return dataFault(2, values) ?? checkedCovariance(values, values);
}

/**
 * Sample standard deviation, denominator n - 1, in the unit of the values.
 * @param values at least two; all alike give 0
 * Checked: tests/statistics/moments.test.ts, NIST StRD.
 */
export function standardDeviation(values: ArrayLike<number>): number | Unavailable {
  return dataFault(2, values) ?? checkedSd(values);
}

/**
 * Sample covariance, denominator n - 1.
 * @param x, y rows of two columns, at least two
 * @throws RangeError when the lengths differ
 */
export function covariance(x: ArrayLike<number>, y: ArrayLike<number>): number | Unavailable {
  return dataFault(2, x, y) ?? checkedCovariance(x, y);
}

/** Mean of values already known to be finite, n >= 1. */
export function checkedMean(values: ArrayLike<number>): number {
  const n = values.length;
  let sum = 0;
  for (let i = 0; i < n; i++) sum += values[i]!;
  const rough = sum / n;
  let residue = 0;
  for (let i = 0; i < n; i++) residue += values[i]! - rough;
  return rough + residue / n;
}

/** Sample SD of values already known to be finite, n >= 2. */
export function checkedSd(values: ArrayLike<number>): number {
  return Math.sqrt(checkedCovariance(values, values));
}

/** Covariance of columns already known to be finite and equally long, n >= 2. */
export function checkedCovariance(x: ArrayLike<number>, y: ArrayLike<number>): number {
  const n = x.length;
  const meanX = checkedMean(x);
  const meanY = y === x ? meanX : checkedMean(y);
  let products = 0;
  let residueX = 0;
  let residueY = 0;
  for (let i = 0; i < n; i++) {
    const dx = x[i]! - meanX;
    const dy = y[i]! - meanY;
    products += dx * dy;
    residueX += dx;
    residueY += dy;
  }
  return (products - (residueX * residueY) / n) / (n - 1);
}
