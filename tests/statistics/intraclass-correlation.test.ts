import { expect, test } from 'vitest';
import {
  type IccForm,
  intraclassCorrelation,
  spearmanBrown,
} from '../../src/core/statistics/intraclass-correlation.ts';
import { answered, expectNear, PRINTED, ROUNDING } from './answers.ts';
import golden from './golden.json' with { type: 'json' };

const { ratings, forms } = golden.icc; // Shrout & Fleiss 1979, table 2

// Exact fractions of the published .17, .29, .71, .44, .62, .91.
test.each<[IccForm, number]>([
  ['1,1', 448 / 2703],
  ['2,1', 184 / 635],
  ['3,1', 920 / 1287],
  ['1,k', 1792 / 4047],
  ['2,k', 736 / 1187],
  ['3,k', 3680 / 4047],
])('Shrout & Fleiss ICC(%s)', (form, value) => {
  const answer = answered(intraclassCorrelation(ratings, form));
  expectNear(answer.value, value, 1e-13);
  expect(answer.n).toBe(6);
});

test.each(forms)('interval of ICC($form) agrees with pingouin', ({ form, interval }) => {
  const answer = answered(intraclassCorrelation(ratings, form as IccForm));
  expectNear(answer.low, interval[0]!, ROUNDING);
  expectNear(answer.high, interval[1]!, ROUNDING);
});

test('interval of ICC(3,1) as R psych gives it (reference.md B8)', () => {
  const answer = answered(intraclassCorrelation(ratings, '3,1'));
  expectNear(answer.low, 0.34246476503, PRINTED);
  expectNear(answer.high, 0.94585826, PRINTED);
});

test('Spearman-Brown', () => {
  expectNear(spearmanBrown(0.6, 2), 0.75, 1e-15);
  expectNear(spearmanBrown(920 / 1287, 4), 0.9093155424, PRINTED);
});

test('what has no reliability coefficient is named', () => {
  expect(intraclassCorrelation([], '3,1')).toEqual({ reason: 'too-few', need: 3, have: 0 });
  expect(intraclassCorrelation([[1], [2], [3]], '1,1')).toEqual({
    reason: 'too-few',
    need: 2,
    have: 1,
  });
  const alike = [
    [0.1, 0.1],
    [0.1, 0.1],
    [0.1, 0.1],
  ];
  expect(intraclassCorrelation(alike, '2,k')).toEqual({ reason: 'no-spread' });
  const shifted = [
    [1, 2.1],
    [2, 3.1],
    [4, 5.1],
  ];
  expect(intraclassCorrelation(shifted, '3,1')).toEqual({ reason: 'collinear' });
  expect(
    intraclassCorrelation(
      [
        [1, 2],
        [2, Number.NaN],
        [3, 4],
      ],
      '3,1',
    ),
  ).toEqual({
    reason: 'not-finite',
    index: 1,
  });
  expect(() => intraclassCorrelation([[1, 2], [3], [4, 5]], '3,1')).toThrow(/Subject 1 has 1/);
});
