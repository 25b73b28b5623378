import { expect } from 'vitest';
import { isUnavailable, type Unavailable } from '../../src/core/statistics/estimate.ts';

/** The answer itself; fails with the reason when there is none. */
export function answered<T>(answer: T | Unavailable): T {
  if (isUnavailable(answer)) throw new Error(`No answer: ${JSON.stringify(answer)}`);
  return answer;
}

/** Within a share of the expected value (of 1 when that is 0); NaN and Unavailable fail. */
export function expectNear(
  actual: number | Unavailable | undefined,
  expected: number,
  relative: number,
): void {
  const scale = Math.abs(expected) || 1;
  const close = typeof actual === 'number' && Math.abs(actual - expected) <= relative * scale;
  expect(close, `${JSON.stringify(actual)} is not within ${relative} of ${expected}`).toBe(true);
}

// Expected values printed with nine or more digits.
export const PRINTED = 5e-9;
// The same formula in doubles, another order of summation.
export const ROUNDING = 1e-11;
