import { expect, test } from 'vitest';
import { brownForsythe, levene } from '../../src/core/statistics/equal-spread.ts';
import { answered, expectNear, PRINTED } from './answers.ts';
import nist from './nist.json' with { type: 'json' };

test('NIST GEAR, ten batches of ten', () => {
  const median = answered(brownForsythe(nist.Gear));
  expectNear(median.statistic, 1.70591, 1e-5); // published, JuliaStats HypothesisTests
  // More digits: reference.md B2, scipy 1.17.1. Three decimals of data near 1 cost three digits.
  expectNear(median.statistic, 1.705917693000894, PRINTED);
  expectNear(median.p, 0.0990829756, PRINTED);
  expect(median).toMatchObject({ betweenDf: 9, withinDf: 90 });
  const mean = answered(levene(nist.Gear));
  expectNear(mean.statistic, 2.1594598565, PRINTED);
  expectNear(mean.p, 0.0322368266, PRINTED);
});

test('one wild value: the mean and the median form (NIST eda35a; scipy)', () => {
  const groups = [
    [1, 2, 3, 4, 5, 6, 7, 8, 100, 10],
    [30, 40, 50, 60, 70, 80, 90, 100, 110, 120],
  ];
  const mean = answered(levene(groups));
  expectNear(mean.statistic, 0.778121319848449, 1e-13);
  expectNear(mean.p, 0.389344552595791, 1e-13);
  const median = answered(brownForsythe(groups));
  expectNear(median.statistic, 1.6738029394, PRINTED);
  expectNear(median.p, 0.2121055817, PRINTED);
});

test('groups of different sizes (scipy and R car)', () => {
  const groups = [
    [2.9, 3.0, 2.5, 2.6, 3.2],
    [3.8, 2.7, 4.0, 2.4],
    [2.8, 3.4, 3.7, 2.2, 2.0],
  ];
  const mean = answered(levene(groups));
  expectNear(mean.statistic, 4.7814692081, PRINTED);
  expectNear(mean.p, 0.0320399114, PRINTED);
  const median = answered(brownForsythe(groups));
  expectNear(median.statistic, 4.4768543438, PRINTED);
  expectNear(median.p, 0.0378033089, PRINTED);
});

test('what cannot be compared is named', () => {
  expect(brownForsythe([[1, 2, 3], [1, 2], []])).toEqual({ reason: 'too-few', need: 3, have: 0 });
  expect(
    brownForsythe([
      [1, 1, 1],
      [2, 2, 2, 2],
    ]),
  ).toEqual({ reason: 'no-spread' });
  expect(
    levene([
      [1, 2],
      [1, Number.NaN, 4],
    ]),
  ).toEqual({ reason: 'not-finite', index: 1 });
  expect(() => levene([[1, 2, 3]])).toThrow(/at least two/);
});
