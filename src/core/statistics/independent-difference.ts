import type { Estimate } from './estimate.ts';

/**
 * Interval for the difference of two independent numbers, a minus b, from the interval of each (square and add):
 *   low = d - sqrt((a - low_a)^2 + (high_b - b)^2),  high = d + sqrt((high_a - a)^2 + (b - low_b)^2)
 * It keeps the skew of the two intervals, so that it also serves shares and correlations.
 * @param a, b at the same confidence level
 * @throws RangeError when the levels differ
 * Source: Newcombe 1998, doi 10.1002/(SICI)1097-0258(19980430)17:8<873::AID-SIM779>3.0.CO;2-I; Zou & Donner 2008,
 *   doi 10.1002/sim.3095 (dois from memory).
 * Checked: tests/statistics/independent-difference.test.ts
 */
export function independentDifference(a: Estimate, b: Estimate): Estimate {
  if (a.level !== b.level)
    throw new RangeError(`Intervals of level ${a.level} and ${b.level}: give both the same`);
  const value = a.value - b.value;
  return {
    value,
    low: value - Math.hypot(a.value - a.low, b.high - b.value),
    high: value + Math.hypot(a.high - a.value, b.value - b.low),
    level: a.level,
    n: a.n + b.n,
  };
}
