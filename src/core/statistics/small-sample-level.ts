import { normalCdf, tQuantile } from './distributions.ts';
import { checkLevel } from './estimate.ts';

/**
 * Level to ask of a bootstrap of few rows so that its interval is about as wide as a level deserves: resamples
 * spread by (n-1)/n too little, and their normal tails are thinner than Student's.
 *   tail = Phi(-sqrt(n/(n-1)) t_{n-1})
 * For a mean this turns the percentile interval into Student's.
 * @param level wanted @param n rows, at least two
 * @returns a larger level: 0.983 for 0.95 of 10 rows, 0.959 of 40
 * Source: "expanded percentile interval", Hesterberg 2015, doi 10.1080/00031305.2015.1089789 (from memory).
 * Checked: tests/statistics/small-sample-level.test.ts; with shares: tests/measures/arm-operating.test.ts
 */
export function smallSampleLevel(level: number, n: number): number {
  checkLevel(level);
  const distance = Math.sqrt(n / (n - 1)) * tQuantile((1 + level) / 2, n - 1);
  return 1 - 2 * normalCdf(-distance);
}
