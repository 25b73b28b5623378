import { normalQuantile } from './distributions.ts';
import { CONFIDENCE, checkLevel, type Estimate, type Unavailable } from './estimate.ts';

/**
 * Share of hits with Wilson's score interval.
 * @param hits 0 to n @param n trials, at least one
 * @throws RangeError unless both are whole and hits is between 0 and n
 * Source: Wilson 1927, doi 10.1080/01621459.1927.10502953.  Checked: tests/statistics/wilson-interval.test.ts
 */
export function wilsonInterval(
  hits: number,
  n: number,
  level = CONFIDENCE,
): Estimate | Unavailable {
  checkLevel(level);
  if (!(Number.isInteger(hits) && Number.isInteger(n) && hits >= 0 && hits <= n))
    throw new RangeError(`${hits} hits of ${n}: give whole numbers, hits from 0 to n`);
  if (n === 0) return { reason: 'too-few', need: 1, have: 0 };
  const z2 = normalQuantile((1 + level) / 2) ** 2;
  const share = hits / n;
  const centre = (hits + z2 / 2) / (n + z2);
  const half = Math.sqrt(z2 * (hits * (1 - share) + z2 / 4)) / (n + z2);
  // At the ends one bound is exactly 0 or 1; rounding must not push it past.
  return {
    value: share,
    low: hits === 0 ? 0 : centre - half,
    high: hits === n ? 1 : centre + half,
    level,
    n,
  };
}
