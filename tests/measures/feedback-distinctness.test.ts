import { expect, test } from 'vitest';
import { seededRandom } from '../../src/core/maths/random.ts';
import { classifyByScore, usualThresholds } from '../../src/core/measures/accuracy-classes.ts';
import { feedbackDistinctness } from '../../src/core/measures/feedback-distinctness.ts';
import { brownForsythe } from '../../src/core/statistics/equal-spread.ts';
import { answered, expectNear, ROUNDING } from '../statistics/answers.ts';

const classesOf = (points: readonly (number | null)[]) =>
  answered(
    classifyByScore(
      points.map((p) => ({ points: p })),
      usualThresholds(10),
    ),
  );

test('SDs of 1 and 3 cm have the ratio one third, and the test of Brown and Forsythe sees it', () => {
  const accurate = [1, -1, 1, -1, 1, -1, 1, -1].map((x) => 0.9 + 0.01 * x);
  const others = [1, -1, 1, -1, 1, -1, 1, -1].map((x, i) => 0.9 + 0.03 * x * (1 + 0.01 * i));
  const points = [...accurate.map(() => 10), null, ...others.map((_, i) => (i < 3 ? 7 : 2))];
  const reach = [...accurate, 5, ...others];
  const found = feedbackDistinctness(reach, classesOf(points));
  expect(found.n).toBe(16);
  expect(answered(found.sdRatio).value).toBeCloseTo(1 / 3, 1);
  expectNear(
    answered(found.equalSpread).p,
    answered(brownForsythe([accurate, others])).p,
    ROUNDING,
  );
  expect(found.verdict.answer).toBe('distinct');
  expect(
    feedbackDistinctness(reach, classesOf(points.map((p) => p && 12 - p))).verdict.answer,
  ).toBe('unknown');
});

test('poor balls far from the sweet spot are told by reach, others are not', () => {
  const random = seededRandom(2);
  const reach = Array.from({ length: 80 }, () => 0.9 + random.normal(0.03));
  const told = reach.map((r) =>
    Math.max(0, 10 - Math.floor(Math.abs(r - 0.9 + random.normal(0.008)) / 0.004)),
  );
  const { tellsPoor } = feedbackDistinctness(reach, classesOf(told));
  expect(answered(tellsPoor).value).toBeGreaterThan(0.9);
  const chance = reach.map(() => Math.round(random.uniform(0, 10)));
  const guess = answered(
    feedbackDistinctness(reach, classesOf(chance.map((p) => (p > 6 ? 10 : p)))).tellsPoor,
  );
  expect(guess.low).toBeLessThan(0.5);
  expect(guess.value).toBeLessThan(0.65);
});

test('an empty class, ties and small sets say why', () => {
  const reach = Array.from({ length: 20 }, (_, i) => 0.9 + 0.001 * ((7 * i) % 20));
  const full = feedbackDistinctness(reach, classesOf(reach.map(() => 10)));
  expect(full.sdRatio).toEqual({ reason: 'too-few', need: 8, have: 0 });
  expect(full.tellsPoor).toEqual({ reason: 'too-few', need: 8, have: 0 });
  expect(full.verdict.words).toContain('8 of each at least; of the rarer there are 0.');
  const halves = reach.map((_, i) => (i < 10 ? 10 : 0));
  const alike = feedbackDistinctness(
    reach.map(() => 0.9),
    classesOf(halves),
  );
  expect(alike.sdRatio).toEqual({ reason: 'no-spread' });
  expect(alike.tellsPoor).toEqual({ reason: 'collinear' });
  for (const n of [0, 1, 2])
    expect(
      feedbackDistinctness(reach.slice(0, n), classesOf(halves.slice(0, n))).verdict.answer,
    ).toBe('unknown');
  const broken = feedbackDistinctness([Number.NaN, ...reach.slice(1)], classesOf(halves));
  expect(broken.sdRatio).toEqual({ reason: 'not-finite', index: 0 });
});
