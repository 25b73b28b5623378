import { expect } from 'vitest';

/** Every number within an absolute tolerance, with the place of the worst one in the message. */
export function expectClose(
  actual: ArrayLike<number>,
  expected: ArrayLike<number>,
  tolerance: number,
): void {
  expect(actual.length).toBe(expected.length);
  for (let i = 0; i < expected.length; i++) {
    const message = `[${i}] ${actual[i]} is not within ${tolerance} of ${expected[i]}`;
    // written so that NaN fails
    expect(Math.abs(actual[i]! - expected[i]!) <= tolerance, message).toBe(true);
  }
}
