import { describe, expect, it } from 'vitest';
import {
  choiceWithin,
  comparableOf,
  firstChoice,
  keyPlayedLast,
  swingsIn,
} from '../../src/screens/side-by-side/comparable.ts';
import { cautionsOf, kitsOf, problemOf } from '../../src/screens/side-by-side/compared-pair.ts';
import type { PlayedSet } from '../../src/screens/side-by-side/worker-words.ts';
import { playedSet } from './played-sets.ts';

const NEW = playedSet('new', 9, ['full', 'soft', 12]);
const BOTH = playedSet('both', 8, ['full', 'hard', 20], ['short', 'soft', 18]);
const OLD = playedSet('old', 1, ['short', 'soft', 7]);
const namesOf = (sets: readonly PlayedSet[]) =>
  comparableOf(sets).map(({ implement, ball }) => `${implement}, ${ball}`);
const idsOf = (sets: readonly PlayedSet[]) => {
  const choice = firstChoice(comparableOf(sets), sets);
  return choice && [choice.A, choice.B].map(({ key, setIds }) => [JSON.parse(key)[0], setIds]);
};

describe('what can be compared', () => {
  it('is each condition once, the shorter implement first, of its sets the newest first', () => {
    const sets = [NEW, BOTH, OLD];
    expect(namesOf(sets)).toEqual(['short racket, soft', 'full racket, hard', 'full racket, soft']);
    const [short] = comparableOf(sets);
    expect(short!.sets.map(({ setId, swings }) => [setId, swings])).toEqual([
      ['both', 18],
      ['old', 7],
    ]);
    expect(swingsIn(short!, { key: short!.key, setIds: ['old'] })).toBe(7);
  });

  it('counts a kit whose length was corrected within a set once', () => {
    const corrected = playedSet('s', 1, ['short', 'soft', 3], ['short', 'soft', 4]);
    const conditions = corrected.conditions.map((condition, i) => ({
      ...condition,
      implementLengthM: i === 0 ? 0.4 : 0.5,
    }));
    const [only, ...others] = comparableOf([{ ...corrected, conditions }]);
    expect(others).toEqual([]);
    expect(only!.sets).toMatchObject([{ setId: 's', swings: 7 }]);
    expect(only!.implementLengthM).toBe(0.5);
  });
});

describe('what is compared at first', () => {
  it('is two conditions of one day, over the sets that have both', () => {
    expect(idsOf([NEW, BOTH, OLD])).toEqual([
      ['short racket', ['both']],
      ['full racket', ['both']],
    ]);
  });

  it('is what was played last where no set has two', () => {
    expect(idsOf([NEW, OLD])).toEqual([
      ['short racket', ['old']],
      ['full racket', ['new']],
    ]);
  });

  it('is the newest set with those before it where there is one condition', () => {
    const older = playedSet('older', 0, ['short', 'soft', 9]);
    expect(idsOf([playedSet('last', 9, ['short', 'soft', 9]), OLD, older])).toEqual([
      ['short racket', ['old', 'older']],
      ['short racket', ['last']],
    ]);
  });

  it('is nothing where there is one set under one condition, or none', () => {
    expect(idsOf([OLD])).toBeNull();
    expect(idsOf([])).toBeNull();
    expect(problemOf(1, null)).toMatch(/one set under one condition/);
    expect(problemOf(0, null)).toMatch(/No set of this player/);
  });

  it('within a set is its two conditions, over the sets that have both', () => {
    const sets = [NEW, BOTH, { ...BOTH, setId: 'both-too' }, OLD];
    const found = choiceWithin(comparableOf(sets), sets, 'both');
    expect([found?.A.setIds, found?.B.setIds]).toEqual([
      ['both', 'both-too'],
      ['both', 'both-too'],
    ]);
    expect(choiceWithin(comparableOf(sets), sets, 'old')).toBeNull();
    expect(choiceWithin(comparableOf(sets), sets, 'unknown')).toBeNull();
  });

  it('takes the kit of the last block for the one played now', () => {
    const abba = { ...BOTH, last: 0 };
    expect(keyPlayedLast([abba])).toBe(JSON.stringify(['full racket', 'hard', '']));
    expect(keyPlayedLast([])).toBeNull();
  });
});

describe('the larger kit', () => {
  const [short, hard, soft] = comparableOf([NEW, BOTH, OLD]);

  it('is the longer one, whatever the coach says', () => {
    expect(kitsOf({ place: 1, of: hard! }, { place: 0, of: short! }, 'B').A).toBe('larger');
    expect(kitsOf({ place: 0, of: short! }, { place: 1, of: hard! }, 'A').A).toBe('smaller');
  });

  it('of equally long ones is what the coach says, or the one later in the list', () => {
    const pair = [
      { place: 2, of: soft! },
      { place: 1, of: hard! },
    ] as const;
    expect(kitsOf(...pair, undefined)).toEqual({ A: 'larger', B: 'smaller' });
    expect(kitsOf(...pair, 'B')).toEqual({ A: 'smaller', B: 'larger' });
  });
});

describe('cautions', () => {
  const comparable = comparableOf([NEW, BOTH, OLD]);
  const pairOf = (a: readonly [number, ...string[]], b: readonly [number, ...string[]]) => {
    const side = ([at, ...setIds]: readonly [number, ...string[]], letter: 'A' | 'B') => ({
      letter,
      kit: letter === 'A' ? ('smaller' as const) : ('larger' as const),
      comparable: comparable[at]!,
      group: { key: comparable[at]!.key, setIds },
    });
    return {
      kits: { A: side(a, 'A'), B: side(b, 'B') },
      isLengthEqual: false,
      current: 'B' as const,
    };
  };
  const about = (...args: Parameters<typeof cautionsOf>) => cautionsOf(...args).join(' ');

  it('of one set: another racket was zeroed anew, nothing about days', () => {
    const said = about(pairOf([0, 'both'], [1, 'both']), true);
    expect(said).toMatch(/zeroed anew/);
    expect(said).not.toMatch(/days|points/);
  });

  it('of different days, of several days, and of other points', () => {
    expect(about(pairOf([0, 'old'], [2, 'new']), true)).toMatch(/different days/);
    expect(about(pairOf([0, 'old', 'both'], [1, 'both']), true)).toMatch(/Several days/);
    expect(about(pairOf([0, 'both'], [1, 'both']), false)).toMatch(/different points/);
  });

  it('stop the same swings from being compared with themselves', () => {
    expect(problemOf(3, pairOf([0, 'old', 'both'], [0, 'both']))).toMatch(/the same swings/);
    expect(problemOf(3, pairOf([0, 'old'], [0, 'both']))).toBeNull();
    expect(problemOf(3, pairOf([0], [1, 'both']))).toMatch(/No set is chosen for A/);
  });
});
