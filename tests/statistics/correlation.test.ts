import { expect, test } from 'vitest';
import { correlation, pearson } from '../../src/core/statistics/correlation.ts';
import { answered, expectNear, PRINTED } from './answers.ts';
import { LAW_SCHOOL } from './law-school.ts';

test('correlation of the law schools (reference.md B3; R cor.test prints the same interval)', () => {
  const answer = answered(correlation(LAW_SCHOOL.score, LAW_SCHOOL.grade));
  expectNear(answer.value, 0.7763744912894073, 1e-14);
  expectNear(answer.low, 0.438510824963, PRINTED);
  expectNear(answer.high, 0.921964755965, PRINTED);
  expectNear(answer.p, 0.000665102011, PRINTED);
  const ninety = answered(correlation(LAW_SCHOOL.score, LAW_SCHOOL.grade, 0.9));
  expectNear(ninety.low, 0.508978487692, PRINTED);
  expectNear(ninety.high, 0.907117558973, PRINTED);
});

test('a straight line correlates perfectly, without NaN', () => {
  const x = [0.1, 0.2, 0.3, 0.4, 0.7];
  const line = correlation(
    x,
    x.map((value) => 3 - 7 * value),
  );
  expect(answered(line).value).toBeCloseTo(-1, 14);
  expect(answered(line).p).toBeLessThan(1e-10);
  expect(answered(correlation(x, x))).toMatchObject({ value: 1, low: 1, high: 1, p: 0 });
});

test('a correlation that cannot be computed is named', () => {
  expect(correlation([1, 2, 3], [3, 1, 2])).toEqual({ reason: 'too-few', need: 4, have: 3 });
  expect(pearson([1], [1])).toEqual({ reason: 'too-few', need: 2, have: 1 });
  expect(pearson([1, 2, 3], [0.1, 0.1, 0.1])).toEqual({ reason: 'no-spread' });
  expect(correlation([1, 2, 3, Number.NaN], [1, 2, 3, 4])).toEqual({
    reason: 'not-finite',
    index: 3,
  });
  expect(() => pearson([1, 2], [1, 2, 3])).toThrow(RangeError);
});
