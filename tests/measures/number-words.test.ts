import { expect, test } from 'vitest';
import { landingError } from '../../src/core/measures/landing-error.ts';
import {
  headingWords,
  landingWords,
  reachWords,
  scoreWords,
} from '../../src/core/measures/number-words.ts';
import { reachAtContact } from '../../src/core/measures/reach-at-contact.ts';
import type { Estimate } from '../../src/core/statistics/estimate.ts';
import { swingOfReach } from './hand-made-swings.ts';

const estimate = (value: number, low: number, high: number, n = 24): Estimate => ({
  value,
  low,
  high,
  level: 0.95,
  n,
});
const NO_LANDING = { reason: 'too-few', need: 2, have: 0 } as const;
const ALIKE = { reason: 'no-spread' } as const;

test('reach in centimetres, with intervals', () => {
  const whole = {
    n: 24,
    meanM: estimate(0.8521, 0.846, 0.8582),
    spreadM: estimate(0.016, 0.0132, 0.0213),
  };
  expect(reachWords(whole)).toBe(
    'Reach at contact is 85.2 (84.6 to 85.8) cm on average and spreads by 1.6 (1.3 to 2.1) cm (SD), 24 swings.',
  );
  const two = reachAtContact([0.9, 0.92].map((r) => swingOfReach(() => r)));
  expect(reachWords(two)).toContain('not known how far it spreads: 2 of at least 3 swings.');
  for (const n of [0, 1])
    expect(
      reachWords(reachAtContact(Array.from({ length: n }, () => swingOfReach(() => 0.9)))),
    ).toBe(`Not known what reach at contact is: ${n} of at least 2 swings.`);
});

test('score: mean and hits, all alike, none scored', () => {
  const hitRate = estimate(14 / 24, 0.388, 0.755);
  expect(scoreWords({ n: 24, mean: estimate(6.84, 5.9, 7.72), hitRate, landing: NO_LANDING })).toBe(
    'A ball scores 6.8 (5.9 to 7.7) points on average; 14 of 24 scored balls are accurate (39 to 76 %).',
  );
  const full = { n: 12, mean: ALIKE, hitRate: estimate(1, 0.757, 1), landing: NO_LANDING };
  expect(scoreWords(full)).toBe(
    'All balls score alike; 12 of 12 scored balls are accurate (76 to 100 %).',
  );
  const none = { reason: 'too-few', need: 1, have: 0 } as const;
  expect(scoreWords({ n: 0, mean: none, hitRate: none, landing: NO_LANDING })).toBe(
    'No ball is scored.',
  );
});

test('landing points: short and left, scatter; silent without any', () => {
  const points = [
    [-0.4, 0.1],
    [-0.2, 0.3],
    [-0.3, 0.2],
  ] as const;
  const words = landingWords(landingError(points.map((landingM) => ({ landingM }))));
  // SDs of 10 cm both ways; Student with 2 df: 4.303 * 10 / sqrt 3 = 24.8.
  expect(words).toContain(
    'Balls land 30.0 cm (5.2 to 54.8) short of the middle of the target on average; the other way nothing is shown: 4.8 cm right to 44.8 cm left. They scatter by 14.1 (',
  );
  const about = [
    [-0.1, 0.1],
    [0.1, -0.1],
  ] as const;
  // SDs of 14.1 cm both ways about 0; Student with 1 df: 12.706 * 14.14 / sqrt 2 = 127.1.
  expect(landingWords(landingError(about.map((landingM) => ({ landingM }))))).toMatch(
    /^Not shown that balls land off the middle of the target on average: 127\.1 cm short to 127\.1 cm beyond and 127\.1 cm right to 127\.1 cm left/,
  );
  expect(landingWords(NO_LANDING)).toBeNull();
  const same = landingError([1, 2, 3].map(() => ({ landingM: [0.1, 0.1] as const })));
  expect(landingWords(same)).toBe(
    'All balls land alike; not known how far they scatter: all swings are alike.',
  );
});

test('swings that do not know the target are told', () => {
  expect(headingWords(40, 40)).toBeNull();
  expect(headingWords(40, 28)).toMatch(/^12 of 40 swings do not know/);
});
