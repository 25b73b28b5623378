import { describe, expect, test } from 'vitest';
import {
  carryOverWords,
  qualityWords,
  sweetPlaceWords,
} from '../../src/core/measures/picture-words.ts';

const FROM_MID = { value: -0.204, low: -0.5, high: 0.1, level: 0.95, n: 20, p: 0.4 };

// Sentences by hand.
describe('carry-over in words', () => {
  test.each([
    [{ answer: 'agrees' }, /^What is off at mid-swing is not simply still off at contact: /],
    [{ answer: 'contradicts' }, /^What is off at mid-swing is still off at contact: /],
    [
      { answer: 'undecided', moreSwings: 4 },
      /^What is off at mid-swing may still be off at contact: /,
    ],
  ] as const)('%o', (guard, words) => {
    const said = carryOverWords(guard, { fromMid: FROM_MID });
    expect(said).toMatch(words);
    expect(said).toMatch(/−0\.20 \(−0\.50 to 0\.10\), where 1 is wholly and 0 not at all\.$/);
  });

  test('says why it is not known', () => {
    const why = { reason: 'too-few', need: 10, have: 6 } as const;
    expect(carryOverWords({ answer: 'unknown', why }, { fromMid: why })).toBe(
      'Not known whether what is off at mid-swing is still off at contact: 6 of at least 10 swings.',
    );
  });
});

describe('the sweet spot in words', () => {
  const bestM = { value: 0.832, low: 0.821, high: 0.8409, level: 0.95, n: 40 };
  test.each([
    [0.81, 0.85, 'within one point of it from 81.0 to 85.0 cm.'],
    [0.81, null, 'within one point of it from 81.0 cm on, as far as was hit.'],
    [null, 0.85, 'within one point of it up to 85.0 cm, from the shortest hit.'],
    [null, null, 'the score stays within one point of it over all reaches hit.'],
  ])('from %s to %s', (fromM, toM, end) => {
    const said = sweetPlaceWords({ bestM, fromM, toM });
    expect(said).toMatch(/^The best score is expected at a reach of 83\.2 \(82\.1 to 84\.1\) cm/);
    expect(said.endsWith(end)).toBe(true);
  });
});

describe('the quality of a set in words', () => {
  test.each([
    [
      { all: 40, counted: 40, leftOut: 0, void: 0 },
      0,
      '40 of 40 swings count; no data were lost on the way.',
    ],
    [
      { all: 40, counted: 36, leftOut: 1, void: 3 },
      0.0123,
      '36 of 40 swings count, 3 without a reach, 1 left out by the coach; 1.23 % of the data were lost on the way.',
    ],
    [{ all: 2, counted: 2, leftOut: 0, void: 0 }, Number.NaN, '2 of 2 swings count.'],
    [{ all: 0, counted: 0, leftOut: 0, void: 0 }, 0, 'No swing was found.'],
  ])('%o', (counts, lost, words) => {
    expect(qualityWords(counts, lost)).toBe(words);
  });
});
