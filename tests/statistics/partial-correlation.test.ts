import { describe, expect, test } from 'vitest';
import { correlation } from '../../src/core/statistics/correlation.ts';
import { partialCorrelation } from '../../src/core/statistics/partial-correlation.ts';
import { answered, expectNear, ROUNDING } from './answers.ts';

const X = [2, 4, 3, 7, 6, 9, 8, 12];
const Y = [1, 3, 5, 4, 8, 7, 11, 9];
const Z = [5, 1, 4, 6, 2, 8, 3, 7];

describe('partialCorrelation', () => {
  test('is the correlation of what two regressions leave (make-partial-correlation.py)', () => {
    const answer = answered(partialCorrelation(X, Y, Z));
    expectNear(answer.value, 0.8377225997968557, ROUNDING);
    expectNear(answer.low, 0.22935219103712268, ROUNDING);
    expectNear(answer.high, 0.9754281542081332, ROUNDING);
    expectNear(answer.p, 0.018632033082072858, 1e-9);
    expect(answer.n).toBe(8);
  });

  test('of three correlations is the textbook formula', () => {
    // r = .5, .5, .5 gives (.5 - .25)/.75 = 1/3: columns with these correlations exactly.
    const base = [
      [1, 1, 1, 1, -1, -1, -1, -1],
      [1, 1, -1, -1, 1, 1, -1, -1],
      [1, -1, 1, -1, 1, -1, 1, -1],
      [1, -1, -1, 1, 1, -1, -1, 1],
    ];
    const column = (k: number) => base[0]!.map((x, i) => x + base[k]![i]!);
    const answer = answered(partialCorrelation(column(1), column(2), column(3)));
    expectNear(answer.value, 1 / 3, ROUNDING);
  });

  test('a third column without spread changes nothing', () => {
    expect(
      partialCorrelation(
        X,
        Y,
        X.map(() => 4),
      ),
    ).toEqual(correlation(X, Y));
  });

  test('has no answer for few rows, none of spread, or a column explained wholly', () => {
    const few = [1, 2, 3, 4];
    expect(partialCorrelation(few, few, few)).toEqual({ reason: 'too-few', need: 5, have: 4 });
    expect(
      partialCorrelation(
        X,
        X.map(() => 1),
        Z,
      ),
    ).toEqual({ reason: 'no-spread' });
    expect(partialCorrelation(X, Y, X)).toEqual({ reason: 'collinear' });
  });
});
