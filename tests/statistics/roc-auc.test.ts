import { expect, test } from 'vitest';
import { rocAuc } from '../../src/core/statistics/roc-auc.ts';
import { answered, expectNear, PRINTED } from './answers.ts';

/** Ratings 1 to 5, so many of each. */
function ratings(...counts: number[]): number[] {
  return counts.flatMap((count, i) => new Array<number>(count).fill(i + 1));
}

// Hanley & McNeil 1982, table I: 109 readings with 310 tied pairs.
const NORMAL = ratings(33, 6, 6, 11, 2);
const ABNORMAL = ratings(3, 2, 2, 11, 33);

test('Hanley & McNeil 1982 readings (area as scipy, DeLong interval as R pROC)', () => {
  const answer = answered(rocAuc(NORMAL, ABNORMAL));
  expectNear(answer.value, 0.8931710615280595, 1e-14);
  expectNear((answer.high - answer.low) / 2 / 1.959963984540054, 0.0307244084, PRINTED);
  expectNear(answer.low, 0.8329523277, PRINTED);
  expectNear(answer.high, 0.9533897954, PRINTED);
});

test('small samples: U = 9 of 12, and the other way round', () => {
  expectNear(answered(rocAuc([2, 3, 4], [1, 5, 6, 7])).value, 0.75, 1e-15);
  expectNear(answered(rocAuc([1, 5, 6, 7], [2, 3, 4])).value, 0.25, 1e-15);
});

test('the interval stays within 0 and 1', () => {
  expect(answered(rocAuc([1, 2, 3, 4.5], [4, 5, 6])).high).toBe(1);
});

test('what has no area, or none with an interval, is named', () => {
  expect(rocAuc([1, 2], [3, 4])).toEqual({ reason: 'separated', value: 1 });
  expect(rocAuc([3, 4], [1, 2])).toEqual({ reason: 'separated', value: 0 });
  expect(rocAuc([2, 2], [2, 2, 2])).toEqual({ reason: 'no-spread' });
  expect(rocAuc([1, 2], [3])).toEqual({ reason: 'too-few', need: 2, have: 1 });
  expect(rocAuc([], [])).toEqual({ reason: 'too-few', need: 2, have: 0 });
  expect(rocAuc([1, 2], [3, Number.NaN])).toEqual({ reason: 'not-finite', index: 1 });
});
