import { expect, test } from 'vitest';
import { pearson } from '../../src/core/statistics/correlation.ts';
import { pitmanMorgan } from '../../src/core/statistics/pitman-morgan.ts';
import { answered, expectNear, PRINTED } from './answers.ts';

// Zar's deer, hind and fore legs.
const HIND = [142, 140, 144, 144, 142, 146, 149, 150, 142, 148];
const FORE = [138, 136, 147, 139, 143, 141, 143, 145, 136, 146];

test('Zar’s deer legs (published by R PairedData: F 0.7111, t -0.65591, p 0.5303)', () => {
  const answer = answered(pitmanMorgan(HIND, FORE));
  // More digits: reference.md B1.
  expectNear(answer.value, 0.71106557377, PRINTED);
  expectNear(answer.t, -0.655912499516, PRINTED);
  expectNear(answer.p, 0.530288303122, PRINTED);
  expectNear(answer.low, 0.227041971312, PRINTED);
  expectNear(answer.high, 2.226963795632, PRINTED);
  expect(answer.degreesOfFreedom).toBe(8);
});

test('a second worked example, with an outlier', () => {
  const am = [10.8, 11.0, 10.4, 10.3, 11.3, 10.2, 11.1];
  const pm = [10.8, 10.6, 11, 10.9, 10.9, 10.7, 1.8];
  const answer = answered(pitmanMorgan(am, pm));
  expectNear(answer.t, -9.434642728401, PRINTED);
  expectNear(answer.p, 0.000225825209, 1e-8); // printed with nine digits
  expectNear(answer.low, 0.002516231944, PRINTED);
  expectNear(answer.high, 0.101298431302, PRINTED);
});

test('it is the t test of the correlation of sum and difference', () => {
  const sum = HIND.map((value, i) => value + FORE[i]!);
  const difference = HIND.map((value, i) => value - FORE[i]!);
  const r = answered(pearson(sum, difference));
  expectNear(r, -0.225905300947, PRINTED);
  expectNear(answered(pitmanMorgan(HIND, FORE)).t, r * Math.sqrt(8 / (1 - r * r)), 1e-12);
});

test('swapping the columns inverts the ratio', () => {
  const forward = answered(pitmanMorgan(HIND, FORE));
  const back = answered(pitmanMorgan(FORE, HIND));
  expectNear(back.low, 1 / forward.high, 1e-13);
  expectNear(back.p, forward.p, 1e-13);
});

test('what cannot be compared is named', () => {
  expect(pitmanMorgan([1, 2, 3], [2, 1, 3])).toEqual({ reason: 'too-few', need: 4, have: 3 });
  expect(pitmanMorgan([], [])).toEqual({ reason: 'too-few', need: 4, have: 0 });
  expect(pitmanMorgan(HIND, HIND)).toEqual({ reason: 'collinear' });
  expect(
    pitmanMorgan(
      HIND,
      HIND.map(() => 0.1),
    ),
  ).toEqual({ reason: 'no-spread' });
  expect(pitmanMorgan([1, 2, 3, Number.NaN], [1, 2, 3, 4])).toEqual({
    reason: 'not-finite',
    index: 3,
  });
});
