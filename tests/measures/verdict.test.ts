import { expect, test } from 'vitest';
import { unknownVerdict, verdictOf } from '../../src/core/measures/verdict.ts';
import type { Unavailable } from '../../src/core/statistics/estimate.ts';

const MEASURE = { limits: { minimumN: 10 }, words: { question: 'Not known:', yes: 'It is.' } };
const words = (n: number, why: Unavailable) => unknownVerdict(MEASURE, n, why).words;

test('gives the words of the answer, and how many swings it takes', () => {
  const verdict = { n: 12, minimumN: 10, answer: 'yes', words: 'It is.' };
  expect(verdictOf(MEASURE, 12, 'yes')).toEqual(verdict);
});

test('says how many swings are lacking', () => {
  expect(words(7, { reason: 'too-few', need: 10, have: 7 })).toBe(
    'Not known: 7 of at least 10 swings. About 3 more swings are needed.',
  );
});

test('asks for as many swings as fill the rarer class at the rate so far', () => {
  // One ball in four: two more take eight.
  expect(words(32, { reason: 'too-few', need: 10, have: 8 })).toBe(
    'Not known: 8 of at least 10 swings of the rarer kind. About 8 more swings are needed.',
  );
  expect(words(30, { reason: 'too-few', need: 10, have: 0 })).toBe(
    'Not known: 0 of at least 10 swings of the rarer kind.',
  );
});

test('names what is lacking where that is not swings', () => {
  const lacks = (have: number, need: number) => `${have} scored of ${need}`;
  const of = (n: number) =>
    unknownVerdict({ ...MEASURE, lacks }, n, { reason: 'too-few', need: 10, have: 5 }).words;
  expect(of(5)).toBe('Not known: 5 scored of 10.');
  expect(of(10)).toBe('Not known: 5 scored of 10. About 10 more swings are needed.');
});

test('gives other reasons in plain words', () => {
  expect(words(30, { reason: 'no-spread' })).toBe('Not known: all swings are alike.');
});
