import { normalCdf, normalQuantile } from './distributions.ts';
import { CONFIDENCE, checkLevel, type Unavailable } from './estimate.ts';

/** Difference of two correlations from independent samples. */
export interface CorrelationDifference {
  /** Difference of Fisher's z over its standard error. */
  readonly z: number;
  readonly p: number;
  /** r of the first less r of the second. */
  readonly value: number;
  readonly low: number;
  readonly high: number;
  readonly level: number;
}

const LEAST_PAIRS = 4;

/**
 * Are two correlations, from different swings, the same?
 *   z = (atanh r1 - atanh r2) / sqrt(1/(n1-3) + 1/(n2-3))
 * The interval joins the two Fisher intervals (MOVER), so that it is right on the scale of r.
 * @param first, second correlation and number of pairs, at least four
 * @returns 'no-spread' when one of them is perfect: its z has no value
 * @throws RangeError for a correlation outside [-1, 1]
 * Source: Fisher 1921, Metron 1:3; interval: Zou 2007, doi 10.1037/1082-989X.12.4.399 (from memory).
 * Checked: tests/statistics/compare-correlations.test.ts
 */
export function compareCorrelations(
  first: { readonly value: number; readonly n: number },
  second: { readonly value: number; readonly n: number },
  level = CONFIDENCE,
): CorrelationDifference | Unavailable {
  checkLevel(level);
  for (const { value } of [first, second])
    if (!(Math.abs(value) <= 1)) throw new RangeError(`Correlation ${value}: it lies in [-1, 1]`);
  const have = Math.min(first.n, second.n);
  if (!(have >= LEAST_PAIRS)) return { reason: 'too-few', need: LEAST_PAIRS, have };
  if (Math.abs(first.value) === 1 || Math.abs(second.value) === 1) return { reason: 'no-spread' };
  const z =
    (Math.atanh(first.value) - Math.atanh(second.value)) /
    Math.sqrt(1 / (first.n - 3) + 1 / (second.n - 3));
  const value = first.value - second.value;
  const end = ({ value: r, n }: typeof first, sign: number) =>
    Math.tanh(Math.atanh(r) + (sign * normalQuantile((1 + level) / 2)) / Math.sqrt(n - 3));
  const reach = (sign: number) =>
    Math.hypot(end(first, sign) - first.value, end(second, -sign) - second.value);
  return {
    z,
    p: 2 * normalCdf(-Math.abs(z)),
    value,
    low: value - reach(-1),
    high: value + reach(1),
    level,
  };
}
