import { describe, expect, test } from 'vitest';
import { measureArm } from '../../src/core/measures/measure-arm.ts';
import type { MeasuredSwing } from '../../src/core/measures/measured-swing.ts';
import { PROXIMAL_FROZEN, WHOLE_ARM } from './arm-players.ts';
import { level, swingFromDirections } from './swing-from-directions.ts';
import { swingsOf } from './virtual-arms.ts';

const OPTIONS = { seed: 1, resamples: 200 };

/** Paths of all numbers in an answer that are not finite. */
function notFinite(answer: unknown, path = ''): string[] {
  if (typeof answer === 'number') return Number.isFinite(answer) ? [] : [path];
  if (typeof answer !== 'object' || answer === null) return [];
  return Object.entries(answer).flatMap(([key, value]) => notFinite(value, `${path}.${key}`));
}

/** Swings of an arm held bent that turns as a whole, all alike. */
const SAME = swingFromDirections((share) =>
  [-2.5 + share, -2.8 + share, -3 + share].map((angle) => level(angle)),
);
const [ONE, OTHER] = swingsOf(WHOLE_ARM, 2, 3) as [MeasuredSwing, MeasuredSwing];
const repeated = (n: number, ...swings: MeasuredSwing[]) =>
  Array.from({ length: n }, (_, i) => swings[i % swings.length]!);

describe('measureArm', () => {
  test.each([0, 1, 2, 9])('of %d swings says how many more it needs', (n) => {
    const { verdicts, ...measures } = measureArm(swingsOf(WHOLE_ARM, n, 1), OPTIONS);
    const why = { reason: 'too-few', need: 10, have: n };
    const { n: have, ...answers } = measures;
    expect(have).toBe(n);
    for (const answer of Object.values(answers)) expect(answer).toEqual(why);
    for (const { answer, words } of Object.values(verdicts)) {
      expect(answer).toBe('unknown');
      expect(words).toContain(`${n} of at least 10 swings`);
      expect(words).toContain(`${10 - n} more swing`);
    }
  });

  test.each([
    ['swings all alike', repeated(12, SAME)],
    ['two swings taken turns with', repeated(12, ONE, OTHER)],
    ['one swing among copies of another', [OTHER, ...repeated(14, ONE)]],
    [
      'an arm that does not move',
      repeated(
        10,
        swingFromDirections(() => [0, 1, 2].map(level)),
      ),
    ],
    [
      'a straight arm',
      repeated(
        10,
        swingFromDirections((s) => [s, s, s].map(level)),
      ),
    ],
    [
      'a segment along the normal',
      repeated(
        10,
        swingFromDirections((s) => [[0, 0, 1], level(s), level(2 * s)]),
      ),
    ],
    ['ordinary swings', swingsOf(PROXIMAL_FROZEN, 10, 5)],
  ] as const)('of %s has no NaN in any answer', (_, swings) => {
    const measures = measureArm(swings, OPTIONS);
    expect(notFinite({ ...measures, angles: null })).toEqual([]);
    for (const { words } of Object.values(measures.verdicts)) expect(words).toMatch(/^[A-Z].*\.$/);
  });

  test('a direction that is missing is named, never computed with', () => {
    const swings = swingsOf(WHOLE_ARM, 12, 1);
    const broken = {
      ...swings[4]!,
      directions: swings[4]!.directions.map((x, i) => (i === 300 ? Number.NaN : x)),
    };
    const measures = measureArm(swings.with(4, broken), OPTIONS);
    const why = { reason: 'not-finite', index: 4 };
    expect(measures).toMatchObject({ angles: why, shares: why, coupling: why, freezing: why });
    expect(measures.verdicts.elbow.words).toContain('a swing has a value missing');
  });

  test('gives the same numbers for the same seed, others for another', () => {
    const swings = swingsOf(WHOLE_ARM, 15, 2);
    expect(measureArm(swings, OPTIONS)).toEqual(measureArm(swings, OPTIONS));
    const other = measureArm(swings, { ...OPTIONS, seed: 2 });
    expect(other.shares).not.toEqual(measureArm(swings, OPTIONS).shares);
  });
});
