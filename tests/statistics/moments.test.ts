import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { lag1Autocorrelation } from '../../src/core/statistics/autocorrelation.ts';
import {
  covariance,
  mean,
  standardDeviation,
  variance,
} from '../../src/core/statistics/moments.ts';
import { expectNear, ROUNDING } from './answers.ts';
import nist from './nist.json' with { type: 'json' };

/** NIST's constructed sets: a first value, then 500 pairs (or one). */
function accuracySet(first: number, a: number, b: number, pairs = 500): number[] {
  return [first, ...Array.from({ length: pairs }, () => [a, b]).flat()];
}

// Tolerances: NIST certifies 15 digits; Mavro, Michelso and NumAcc hold a spread far smaller than
// their mean, and the decimals themselves are not doubles, so digits are lost before we begin
// (NumAcc4: the best double answer is 0.1000000005588).
const certified = [
  { name: 'Lew', ...nist.univariate.Lew, tolerance: 1e-13 },
  { name: 'Lottery', ...nist.univariate.Lottery, tolerance: 1e-13 },
  { name: 'Mavro', ...nist.univariate.Mavro, tolerance: 1e-11 },
  { name: 'Michelso', ...nist.univariate.Michelso, tolerance: 1e-11 },
  {
    name: 'NumAcc1',
    y: accuracySet(10000001, 10000003, 10000002, 1),
    mean: 10000002,
    sd: 1,
    lag1: -0.5,
    tolerance: 1e-15,
  },
  {
    name: 'NumAcc2',
    y: accuracySet(1.2, 1.1, 1.3),
    mean: 1.2,
    sd: 0.1,
    lag1: -0.999,
    tolerance: 1e-13,
  },
  {
    name: 'NumAcc3',
    y: accuracySet(1000000.2, 1000000.1, 1000000.3),
    mean: 1000000.2,
    sd: 0.1,
    lag1: -0.999,
    tolerance: 1e-8,
  },
  {
    name: 'NumAcc4',
    y: accuracySet(10000000.2, 10000000.1, 10000000.3),
    mean: 10000000.2,
    sd: 0.1,
    lag1: -0.999,
    tolerance: 1e-7,
  },
];

test.each(certified)('NIST $name: mean, SD and lag-1 autocorrelation', (set) => {
  expectNear(mean(set.y), set.mean, 1e-14);
  expectNear(standardDeviation(set.y), set.sd, set.tolerance);
  expectNear(variance(set.y), set.sd ** 2, 2 * set.tolerance);
  expectNear(lag1Autocorrelation(set.y), set.lag1, set.tolerance);
});

test('covariance matches the worked ellipse of reference.md B7', () => {
  const x = [2, 3, 5, 6, 8, 9, 4, 7];
  const y = [1, 4, 4, 7, 6, 9, 2, 8];
  expectNear(covariance(x, y), 43.5 / 7, ROUNDING);
});

test('variance of a sum is the sum of variances and twice the covariance', () => {
  const column = fc.array(fc.double({ min: -1e3, max: 1e3, noNaN: true }), {
    minLength: 12,
    maxLength: 12,
  });
  fc.assert(
    fc.property(column, column, (x, y) => {
      const sum = x.map((value, i) => value + y[i]!);
      const parts =
        (variance(x) as number) + (variance(y) as number) + 2 * (covariance(x, y) as number);
      expect(Math.abs((variance(sum) as number) - parts)).toBeLessThan(1e-8); // of values up to 1e6
    }),
    { seed: 1 },
  );
});

test('constant values have a spread of exactly zero, whatever their digits', () => {
  fc.assert(
    fc.property(
      fc.double({ min: -1e6, max: 1e6, noNaN: true }),
      fc.integer({ min: 2, max: 200 }),
      (value, n) => {
        expect(standardDeviation(new Array(n).fill(value))).toBe(0);
      },
    ),
    { seed: 2 },
  );
  expect(lag1Autocorrelation([0.1, 0.1, 0.1, 0.1])).toEqual({ reason: 'no-spread' });
});

describe('what cannot be answered is named', () => {
  test('too few values', () => {
    expect(mean([])).toEqual({ reason: 'too-few', need: 1, have: 0 });
    expect(mean([3])).toBe(3);
    expect(standardDeviation([3])).toEqual({ reason: 'too-few', need: 2, have: 1 });
    expect(covariance([], [])).toEqual({ reason: 'too-few', need: 2, have: 0 });
    expect(lag1Autocorrelation([1, 2])).toEqual({ reason: 'too-few', need: 3, have: 2 });
  });

  test.each([Number.NaN, Number.POSITIVE_INFINITY])('%s among the values', (bad) => {
    const fault = { reason: 'not-finite', index: 2 };
    const values = [1, 2, bad, 4];
    for (const answer of [
      mean(values),
      variance(values),
      standardDeviation(values),
      covariance([1, 2, 3, 4], values),
      lag1Autocorrelation(values),
    ])
      expect(answer).toEqual(fault);
  });

  test('columns of different lengths are the caller’s mistake', () => {
    expect(() => covariance([1, 2, 3], [1, 2])).toThrow(/3 and 2 values/);
  });
});
