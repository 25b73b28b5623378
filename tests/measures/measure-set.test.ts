import { describe, expect, test } from 'vitest';
import { usualThresholds } from '../../src/core/measures/accuracy-classes.ts';
import { measureFamilies, measureSet } from '../../src/core/measures/measure-set.ts';
import type { MeasuredSwing } from '../../src/core/measures/measured-swing.ts';
import { isUnavailable } from '../../src/core/statistics/estimate.ts';
import { pointsFor } from './scored-players.ts';
import { PLAYERS, virtualSet } from './virtual-players.ts';

const OPTIONS = { seed: 1, resamples: 200 };
const THRESHOLDS = usualThresholds(10);
const PLAIN = virtualSet(PLAYERS.controlled, 40, 1);
const MEAN_M = PLAIN.reduce((sum, swing) => sum + swing.reachCurveM[100]!, 0) / 40;
/** A ball misses by a metre for each centimetre of reach; the target forgives half a metre. */
const SWINGS = PLAIN.map((swing) => ({
  ...swing,
  points: pointsFor(100 * (swing.reachCurveM[100]! - MEAN_M)),
}));
const measured = (swings: readonly MeasuredSwing[]) =>
  measureSet({ swings, thresholds: THRESHOLDS }, OPTIONS);

/** Every text anywhere in a result. */
function textsOf(value: unknown): string[] {
  if (typeof value === 'string') return [value];
  if (value === null || typeof value !== 'object' || ArrayBuffer.isView(value)) return [];
  return Object.values(value).flatMap(textsOf);
}

describe('a whole set', () => {
  test('gets every family once, each part the same alone and together', () => {
    const parts = [...measureFamilies({ swings: SWINGS, thresholds: THRESHOLDS }, OPTIONS)];
    const names = parts.flatMap((part) => Object.keys(part));
    expect(new Set(names).size).toBe(names.length);
    const whole = measured(SWINGS);
    expect(Object.keys(whole).sort()).toEqual(names.sort());
    expect(Object.assign({}, ...parts)).toEqual(whole);
  });

  test('crosses to another thread as it is', () => {
    const whole = measured(SWINGS);
    expect(structuredClone(whole)).toEqual(whole);
  });

  test('angles leave out swings whose court heading nobody knows, reach does not', () => {
    const some = SWINGS.map((swing, i) => ({ ...swing, courtHeadingKnown: i % 4 !== 0 }));
    const { n, angleN, funnel, arm } = measured(some);
    expect([n, angleN, arm.n]).toEqual([40, 30, 30]);
    expect(funnel).toEqual(measured(SWINGS).funnel);
    expect(arm).toEqual(measured(SWINGS.filter((_, i) => i % 4 !== 0)).arm);
  });
});

// design.md section 9: what cannot be computed says why, in words.
describe('poor data give reasons, never an exception and never NaN in words', () => {
  const scoredAs = (points: (i: number) => number | null) =>
    SWINGS.map((swing, i) => ({ ...swing, points: points(i) }));
  const broken = SWINGS.map((swing, i) =>
    i === 20 ? { ...swing, reachCurveM: new Float64Array(101).fill(Number.NaN) } : swing,
  );
  const cases: readonly (readonly [string, readonly MeasuredSwing[]])[] = [
    ['no swing', []],
    ['one swing', SWINGS.slice(0, 1)],
    ['two swings', SWINGS.slice(0, 2)],
    ['nine swings', SWINGS.slice(0, 9)],
    ['no score at all', scoredAs(() => null)],
    ['every ball full points', scoredAs(() => 10)],
    ['no accurate ball', scoredAs((i) => (i % 2 === 0 ? 0 : 5))],
    ['one accurate ball', scoredAs((i) => (i === 0 ? 10 : 0))],
    ['a score here and there', scoredAs((i) => (i % 5 === 0 ? 10 : null))],
    ['one swing forty times', SWINGS.map(() => SWINGS[0]!)],
    [
      'one swing forty times, scores differ',
      scoredAs((i) => i % 11).map((s) => ({ ...SWINGS[0]!, points: s.points })),
    ],
    ['court heading never known', SWINGS.map((s) => ({ ...s, courtHeadingKnown: false }))],
    ['a missing reach in the middle', broken],
  ];

  test.each(cases)('%s', (_, swings) => {
    const found = measured(swings);
    expect(found.n).toBe(swings.length);
    const texts = textsOf(found);
    expect(texts.length).toBeGreaterThan(8);
    for (const text of texts) expect(text).not.toMatch(/NaN|undefined|Infinity|null/);
    for (const { verdict } of [
      found.sweetSpot,
      ...Object.values(found.arm.verdicts).map((v) => ({ verdict: v })),
    ]) {
      expect(verdict.words).toMatch(/^[A-Z].*\.$/);
    }
    expect(found.funnel.verdict.words).toMatch(/^[A-Z].*\.$/);
    if (!isUnavailable(found.manifold)) expect(found.manifold.verdict.words).toMatch(/\.$/);
  });
});
