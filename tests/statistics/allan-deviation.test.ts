import { describe, expect, it } from 'vitest';
import {
  allanDeviation,
  overlappingAllanDeviation,
} from '../../src/core/statistics/allan-deviation.ts';
import { expectNear } from './answers.ts';

// NIST Special Publication 1065 (Riley 2008), suite of nine frequencies and suite of 1000 points, as in
// reference.md F (aewallin/allantools@599dc9e, tests/nbs14; both suites computed again there with numpy).
const NINE = [892, 809, 823, 798, 671, 644, 883, 903, 677];

/** Park and Miller's generator, as the handbook prescribes it. */
function thousandPoints(): number[] {
  const values: number[] = [];
  let n = 1234567890;
  for (let i = 0; i < 1000; i++) {
    values.push(n / 2147483647);
    // below 2^53: exact in doubles
    n = (16807 * n) % 2147483647;
  }
  return values;
}

describe('the Allan deviation', () => {
  it('is the handbook’s for nine frequencies', () => {
    expectNear(allanDeviation(NINE, 1), 91.2294497407, 1e-11);
    expectNear(allanDeviation(NINE, 2), 115.8082107049, 1e-11);
    expectNear(overlappingAllanDeviation(NINE, 1), 91.2294497407, 1e-11);
    expectNear(overlappingAllanDeviation(NINE, 2), 85.9528698377, 1e-11);
  });

  it('is the handbook’s for a thousand points', () => {
    // Seven printed digits.
    const points = thousandPoints();
    expect(points.slice(1, 4).map((y) => Math.round(y * 2147483647))).toEqual([
      395529916, 1209410747, 633705974,
    ]);
    for (const [averaged, plain, overlapping] of [
      [1, 0.2922319, 0.2922319],
      [10, 0.09965736, 0.09159953],
      [100, 0.03897804, 0.03241343],
    ] as const) {
      expectNear(allanDeviation(points, averaged), plain, 2e-7);
      expectNear(overlappingAllanDeviation(points, averaged), overlapping, 2e-7);
    }
  });

  it('of a steady ramp is its rise over tau by the square root of two', () => {
    // Closed form (NIST SP 1065, drift): neighbouring means differ by rate * tau, always.
    const ramp = Array.from({ length: 200 }, (_, i) => 1e6 + 0.25 * i);
    expectNear(allanDeviation(ramp, 8), (0.25 * 8) / Math.SQRT2, 1e-9);
    expectNear(overlappingAllanDeviation(ramp, 8), (0.25 * 8) / Math.SQRT2, 1e-9);
  });

  it('does not see a constant bias', () => {
    expect(overlappingAllanDeviation([5, 5, 5, 5], 2)).toBe(0);
  });

  it('says how many samples are missing, and names what is no number', () => {
    expect(allanDeviation(NINE, 5)).toEqual({ reason: 'too-few', need: 10, have: 9 });
    expect(overlappingAllanDeviation([1, Number.NaN, 2], 1)).toEqual({
      reason: 'not-finite',
      index: 1,
    });
  });

  it('refuses a time that is no whole number of samples', () => {
    for (const averaged of [0, -1, 1.5, Number.NaN]) {
      expect(() => allanDeviation(NINE, averaged)).toThrow(/1, 2, 3/);
    }
  });
});
