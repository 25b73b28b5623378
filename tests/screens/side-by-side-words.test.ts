import { describe, expect, it } from 'vitest';
import type { ComparedMeasure, Comparison } from '../../src/core/measures/comparison.ts';
import type { ComparedName } from '../../src/core/measures/comparison-measure.ts';
import { COMPARED } from '../../src/core/measures/comparison-words.ts';
import { decide } from '../../src/core/measures/decision.ts';
import { answerOf } from '../../src/screens/side-by-side/answer-words.ts';
import { comparableOf } from '../../src/screens/side-by-side/comparable.ts';
import type { ComparedPair } from '../../src/screens/side-by-side/compared-pair.ts';
import { differenceAxis } from '../../src/screens/side-by-side/difference-axis.ts';
import { toldMeasure } from '../../src/screens/side-by-side/measure-words.ts';
import { playedSet } from './played-sets.ts';

const [short, full] = comparableOf([
  playedSet('s', 1, ['short', 'soft', 20], ['full', 'hard', 20]),
]);

/** A is the short racket unless turned. */
function pairOf(isTurned = false, current: 'A' | 'B' = 'B'): ComparedPair {
  const smaller = {
    kit: 'smaller',
    comparable: short!,
    group: { key: short!.key, setIds: ['s'] },
  } as const;
  const larger = {
    kit: 'larger',
    comparable: full!,
    group: { key: full!.key, setIds: ['s'] },
  } as const;
  const [A, B] = isTurned ? [larger, smaller] : [smaller, larger];
  return {
    kits: { A: { letter: 'A', ...A }, B: { letter: 'B', ...B } },
    isLengthEqual: false,
    current,
  };
}

interface Told {
  readonly values: readonly [smaller: number, larger: number];
  readonly contrast: readonly [value: number, low: number, high: number];
  readonly p?: number;
}

function measure(name: ComparedName, { values, contrast, p = 0.5 }: Told): ComparedMeasure {
  const [value, low, high] = contrast;
  const isHigher = value > (COMPARED[name].scale === 'ratio' ? 1 : 0);
  const isSmaller = isHigher === (COMPARED[name].favourable === 'higher');
  const speaks = p <= 0.05 && COMPARED[name].favourable !== 'neither';
  return {
    name,
    smaller: values[0],
    larger: values[1],
    contrast: { value, low, high, level: 0.95, n: 40 },
    p: { p, rearrangements: 1999, exact: false },
    pHolm: p,
    favours: speaks ? (isSmaller ? 'smaller' : 'larger') : null,
  };
}

const SCORE = { values: [8, 6.5], contrast: [1.5, 0.4, 2.6] } as const;
const SPREAD = { values: [0.01, 0.02], contrast: [0.5, 0.4, 0.8] } as const;

const even = (name: ComparedName): Told =>
  COMPARED[name].scale === 'ratio'
    ? { values: [1, 1], contrast: [1, 0.9, 1.1] }
    : { values: [1, 1], contrast: [0, -0.1, 0.1] };
const comparison = (change: Partial<Record<ComparedName, Told>>, n = 40): Comparison => ({
  n: { smaller: n, larger: n },
  accurateFrom: 10,
  measures: Object.fromEntries(
    (Object.keys(COMPARED) as ComparedName[]).map((name) => [
      name,
      measure(name, change[name] ?? even(name)),
    ]),
  ) as Comparison['measures'],
});
/** A measure among others that are even. */
function told(one: ComparedMeasure, pair = pairOf()) {
  const even = comparison({});
  const of = { ...even, measures: { ...even.measures, [one.name]: one } };
  return toldMeasure(one, pair, of);
}

describe('a measure in words', () => {
  it('says by how much, seen from the side that has more, with unit and interval', () => {
    const first = told(measure('score', { ...SCORE, p: 0.01 }));
    expect(first.values).toEqual({ A: '8.0 points', B: '6.5 points' });
    expect(first.difference).toBe(
      'With short racket a ball scores more: by 1.5 points (95 % interval: 0.4 to 2.6 points).',
    );
    expect(first.verdict).toBe('Speaks for short racket: balls score more.');
    const turned = told(measure('score', SCORE), pairOf(true));
    expect(turned.values).toEqual({ A: '6.5 points', B: '8.0 points' });
    expect(turned.difference).toMatch(/^With short racket a ball scores more: by 1.5/);
    expect(turned.verdict).toMatch(/^Not shown/);
  });

  it('turns differences and ratios round with their intervals', () => {
    const less = { values: [6.5, 8], contrast: [-1.5, -2.6, 0.4] } as const;
    expect(told(measure('score', less)).difference).toBe(
      'With full racket a ball scores more: by 1.5 points (95 % interval: −0.4 to 2.6 points).',
    );
    expect(told(measure('spread', SPREAD)).difference).toBe(
      'With full racket reach spreads more: 2.0 times as much (95 % interval: 1.3 to 2.5 times).',
    );
  });

  it('gives elbow and wrist as a ratio: twice half the logarithm of 4 is 4 to 1', () => {
    const half = Math.log(4) / 2;
    const found = told(measure('manifold', { values: [half, 0], contrast: [half, 0, 2 * half] }));
    expect(found.values).toEqual({ A: '4.0 to 1', B: '1.0 to 1' });
    expect(found.difference).toMatch(/4\.0 times as much \(95 % interval: 1\.0 to 16\.0 times\)/);
  });

  it('says why a number is missing, and that speed speaks for neither', () => {
    const why = { reason: 'too-few', need: 10, have: 6 } as const;
    const missing = { ...measure('spread', SPREAD), smaller: why, larger: why, contrast: why };
    const found = told(missing);
    expect([found.values.A, found.difference]).toEqual(['not known', null]);
    expect(found.verdict).toBe('Not known: 6 of at least 10 swings with each kit.');
    expect(differenceAxis(missing, pairOf())).toBeNull();
    const fast = { values: [9, 8], contrast: [1, 0.5, 1.5], p: 0.001 } as const;
    expect(told(measure('speed', fast)).verdict).toMatch(/^Speaks for neither kit/);
  });
});

describe('why nothing is shown', () => {
  const clear = { values: [8, 6.5], contrast: [1.5, 0.4, 2.6] } as const;
  const verdict = (of: ComparedMeasure) => told(of).verdict;

  it('is an open interval, the number of measures, or the permutations, each where it is true', () => {
    const open = { values: [7, 7], contrast: [0, -2, 2] } as const;
    expect(verdict(measure('score', open))).toMatch(/the bar reaches to both sides/);
    const ratio = { values: [1, 1], contrast: [1.1, 0.9, 1.3] } as const;
    expect(verdict(measure('spread', ratio))).toMatch(/the bar reaches to both sides/);
    const byHolm = { ...measure('score', clear), pHolm: 0.09 };
    expect(verdict({ ...byHolm, p: { p: 0.02, rearrangements: 1999, exact: false } })).toMatch(
      /^Not shown: alone it would count/,
    );
    expect(verdict({ ...byHolm, p: { p: 0.07, rearrangements: 1999, exact: false } })).toMatch(
      /7 of 100 deals/,
    );
  });

  it('is an elbow held still where a shown coupling speaks for nobody', () => {
    const held = { values: [0, 0.8], contrast: [-0.8, -0.9, -0.6], p: 0.004 } as const;
    const found = told({ ...measure('coupling', held), favours: null });
    expect(found.verdict).toMatch(/^Speaks for neither kit: with the elbow held/);
  });

  it('says which balls are too few to compare good with bad ones', () => {
    const why = { reason: 'too-few', need: 8, have: 3 } as const;
    const few = { ...measure('feedback', SPREAD), smaller: why, larger: why, contrast: why };
    const shares = measure('hitRate', { values: [0.925, 0.5], contrast: [0.425, 0.2, 0.6] });
    const even = comparison({});
    const of = { ...even, measures: { ...even.measures, feedback: few, hitRate: shares } };
    expect(toldMeasure(few, pairOf(), of).verdict).toBe(
      'Not known: only 3 balls with short racket missed full points, and 8 are needed.',
    );
  });
});

describe('numbers that belong together', () => {
  it('agree as they are rounded: 9.74 less 9.36 is 0.38, where 9.7 less 9.4 is not 0.4', () => {
    const found = told(measure('score', { values: [9.74, 9.36], contrast: [0.38, 0.1, 0.66] }));
    expect(found.values).toEqual({ A: '9.74 points', B: '9.36 points' });
    expect(found.difference).toMatch(/by 0\.38 points/);
  });

  it('are far more where the ratio is too large to say how much', () => {
    const found = told(measure('spread', { values: [1, 43], contrast: [1 / 43, 1 / 115, 1 / 16] }));
    expect(found.difference).toBe(
      'With full racket reach spreads far more; how much: “All numbers”.',
    );
  });
});

describe('the axis of a difference', () => {
  it('has the dot on the side of the better one, A on the left', () => {
    const more = differenceAxis(measure('score', SCORE), pairOf())!;
    expect(more.at).toBeLessThan(0);
    expect(more.high).toBeLessThan(0);
    expect(more.left).toBe('more with A');
    const shown = differenceAxis(measure('score', { ...SCORE, p: 0.01 }), pairOf())!;
    expect(shown.left).toBe('better with A');
    expect(differenceAxis(measure('spread', SPREAD), pairOf())!.left).toBe('less with A');
    // less spread is better
    expect(differenceAxis(measure('spread', SPREAD), pairOf())!.at).toBeLessThan(0);
    expect(differenceAxis(measure('spread', SPREAD), pairOf(true))!.at).toBeGreaterThan(0);
  });

  it('has twice and half equally far from the middle, and the middle inside an open interval', () => {
    const at = (value: number) =>
      differenceAxis(measure('spread', { values: [1, 1], contrast: [value, 0.25, 4] }), pairOf())!;
    expect(at(2).at).toBeCloseTo(-at(0.5).at, 12);
    expect(at(2).low).toBeCloseTo(-at(2).high, 12);
    expect(at(2).low).toBeLessThan(0);
  });
});

describe('the answer', () => {
  const answer = (of: Comparison, pair = pairOf()) =>
    answerOf(decide(of, pair.kits[pair.current].kit), of, pair);
  const better = comparison({ score: { ...SCORE, p: 0.001 } });

  it('scales down from B, and stays with A when A is played', () => {
    const found = answer(better);
    expect(found.head).toBe('Scale down');
    expect(found.sentence).toBe('short racket, the smaller kit, serves this player better.');
    expect(found.advice).toMatchObject({
      kit: 'Go down to: short racket with soft.',
      score: 'Better with short racket (8.0 points a ball against 6.5).',
      together:
        'Racket and ball changed together: this cannot say which of the two made the difference.',
    });
    expect(found.speaksFor).toEqual({ A: ['balls score more'], B: [] });
    const stay = answer(better, pairOf(false, 'A'));
    expect([stay.head, stay.advice?.kit]).toEqual(['Stay', 'Stay with: short racket with soft.']);
    expect(answer(better, pairOf(true, 'A')).advice?.kit).toBe(
      'Go down to: short racket with soft.',
    );
  });

  it('steps up where the larger kit is no worse, and says in what', () => {
    const found = answer(comparison({}), pairOf(false, 'A'));
    expect(found.head).toBe('Step up');
    expect(found.speaksFor.B).toEqual([expect.stringMatching(/^the larger kit is no worse/)]);
    expect(found.sentence).toMatch(/as well; the smaller one is not needed/);
    expect(answer(comparison({})).advice?.kit).toBe('Stay with: full racket with hard.');
  });

  it('weighs nothing against another by itself', () => {
    const torn = comparison({
      score: { ...SCORE, p: 0.001 },
      coupling: { values: [0.1, 0.8], contrast: [-0.7, -0.9, -0.5], p: 0.001 },
    });
    const found = answer(torn);
    expect(found.head).toBe('Stay');
    expect(found.sentence).toMatch(/speak against each other/);
    expect([found.speaksFor.A.length, found.speaksFor.B.length]).toEqual([1, 1]);
  });

  it('asks for more swings with each, at least so many where there are few', () => {
    const open = comparison({ score: { values: [7, 7], contrast: [0, -2, 2] } });
    expect(answer(open).sentence).toMatch(/about \d+ more swings with each may settle it\.$/);
    expect(answer(comparison({}, 9)).sentence).toMatch(/at least 1 more swing with each is needed/);
  });

  it('advises no kit where both sides have the same', () => {
    const pair = pairOf();
    const same = { ...pair, kits: { ...pair.kits, B: { ...pair.kits.B, comparable: short! } } };
    expect(answer(better, same)).toMatchObject({ head: 'Same kit', open: [] });
  });
});
