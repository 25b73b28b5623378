import type { Unavailable } from './estimate.ts';

/**
 * Holm's step-down adjustment: p values that hold for a whole family of tests.
 * @param pValues the family, in any order; tests without a result stay so and do not count
 * @returns adjusted p values in the same order, never above 1
 * @throws RangeError when one is not between 0 and 1
 * Source: Holm 1979, Scand J Statist 6:65.  Checked: tests/statistics/holm.test.ts
 */
export function holmAdjusted(pValues: readonly (number | Unavailable)[]): (number | Unavailable)[] {
  const found: { p: number; place: number }[] = [];
  for (const [place, p] of pValues.entries()) {
    if (typeof p !== 'number') continue;
    if (!(p >= 0 && p <= 1)) throw new RangeError(`p value ${p} at ${place} is not from 0 to 1`);
    found.push({ p, place });
  }
  found.sort((a, b) => a.p - b.p);
  const adjusted = [...pValues];
  let largest = 0;
  for (const [rank, { p, place }] of found.entries()) {
    largest = Math.max(largest, Math.min(1, (found.length - rank) * p));
    adjusted[place] = largest;
  }
  return adjusted;
}
