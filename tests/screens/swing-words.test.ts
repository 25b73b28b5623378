import { expect, test } from 'vitest';
import { missOf, missWords } from '../../src/screens/court/swing-words.ts';

const BAND = { reachM: 0.832, halfWidthM: 0.015 };

// Expected words by arithmetic: the band ends at 81.7 and 84.7 cm.
test.each([
  [0.832, 'At target reach'],
  [0.847, 'At target reach'],
  [0.8474, 'At target reach'],
  [0.8476, '0.1 cm long'],
  [0.86, '1.3 cm long'],
  [0.8167, 'At target reach'],
  [0.8, '1.7 cm short'],
])('a reach of %f m: %s', (reachM, words) => {
  expect(missWords(missOf(reachM, BAND))).toBe(words);
});

test('without a band nothing is said of a miss', () => {
  expect(missWords(missOf(0.8, null))).toBe('No target reach planned');
});
