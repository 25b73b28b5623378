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

describe('a measure in words', () => {
  it('says by how much, seen from the side that has more, with unit and interval', () => {
    const told = toldMeasure(measure('score', { ...SCORE, p: 0.01 }), pairOf());
    expect(told.values).toEqual({ A: '8.0 points', B: '6.5 points' });
    expect(told.difference).toBe(
      'With A a ball scores more: by 1.5 points (95 % interval: 0.4 to 2.6 points).',
    );
    expect(told.verdict).toBe('Speaks for A: balls score more.');
    const turned = toldMeasure(measure('score', SCORE), pairOf(true));
    expect(turned.values).toEqual({ A: '6.5 points', B: '8.0 points' });
    expect(turned.difference).toMatch(/^With B a ball scores more: by 1.5/);
    expect(turned.verdict).toMatch(/^Not shown/);
  });

  it('turns differences and ratios round with their intervals', () => {
    const less = { values: [6.5, 8], contrast: [-1.5, -2.6, 0.4] } as const;
    expect(toldMeasure(measure('score', less), pairOf()).difference).toBe(
      'With B a ball scores more: by 1.5 points (95 % interval: −0.4 to 2.6 points).',
    );
    expect(toldMeasure(measure('spread', SPREAD), pairOf()).difference).toBe(
      'With B reach spreads more: 2.0 times as much (95 % interval: 1.3 to 2.5 times).',
    );
  });

  it('gives elbow and wrist as a ratio: twice half the logarithm of 4 is 4 to 1', () => {
    const half = Math.log(4) / 2;
    const told = toldMeasure(
      measure('manifold', { values: [half, 0], contrast: [half, 0, 2 * half] }),
      pairOf(),
    );
    expect(told.values).toEqual({ A: '4.0 to 1', B: '1.0 to 1' });
    expect(told.difference).toMatch(/4\.0 times as much \(95 % interval: 1\.0 to 16\.0 times\)/);
  });

  it('says why a number is missing, and that speed speaks for neither', () => {
    const why = { reason: 'too-few', need: 10, have: 6 } as const;
    const missing = { ...measure('spread', SPREAD), smaller: why, larger: why, contrast: why };
    const told = toldMeasure(missing, pairOf());
    expect([told.values.A, told.difference]).toEqual(['not known', null]);
    expect(told.verdict).toBe('Not known: 6 of at least 10 swings.');
    expect(differenceAxis(missing, pairOf())).toBeNull();
    const fast = { values: [9, 8], contrast: [1, 0.5, 1.5], p: 0.001 } as const;
    expect(toldMeasure(measure('speed', fast), pairOf()).verdict).toBe('Speaks for neither side.');
  });
});

describe('the axis of a difference', () => {
  it('has the dot on the side of the better one, A on the left', () => {
    const more = differenceAxis(measure('score', SCORE), pairOf())!;
    expect(more.at).toBeLessThan(0);
    expect(more.high).toBeLessThan(0);
    expect(more.left).toBe('better with A');
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
  const answer = (of: Comparison, pair = pairOf()) =>
    answerOf(decide(of, pair.kits[pair.current].kit), of, pair);
  const better = comparison({ score: { ...SCORE, p: 0.001 } });

  it('scales down from B, and stays with A when A is played', () => {
    const found = answer(better);
    expect(found.head).toBe('Scale down');
    expect(found.sentence).toMatch(/^A, the smaller kit, serves/);
    expect(found.speaksFor).toEqual({ A: ['balls score more'], B: [] });
    expect(answer(better, pairOf(false, 'A')).head).toBe('Stay with A');
    expect(answer(better, pairOf(true, 'A')).sentence).toMatch(/^B, the smaller kit, serves/);
  });

  it('steps up where the larger kit is no worse, and says in what', () => {
    const found = answer(comparison({}), pairOf(false, 'A'));
    expect(found.head).toBe('Step up');
    expect(found.speaksFor.B).toEqual([expect.stringMatching(/^the larger kit is no worse/)]);
    expect(answer(comparison({})).head).toBe('Stay with B');
  });

  it('weighs nothing against another by itself', () => {
    const torn = comparison({
      score: { ...SCORE, p: 0.001 },
      coupling: { values: [0.1, 0.8], contrast: [-0.7, -0.9, -0.5], p: 0.001 },
    });
    const found = answer(torn);
    expect(found.head).toBe('Stay with B');
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
