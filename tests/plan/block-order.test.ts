import { describe, expect, it } from 'vitest';
import { orderBlocks } from '../../src/core/plan/block-order.ts';

/** Places as letters, as a coach reads them. */
function letters(places: readonly number[]): string {
  return places.map((place) => 'ABCD'[place]).join('');
}

describe('orderBlocks', () => {
  it.each([
    ['as-listed', 2, 2, 'ABAB'],
    ['as-listed', 3, 2, 'ABCABC'],
    ['mirrored', 2, 2, 'ABBA'],
    ['mirrored', 2, 3, 'ABBAAB'],
    ['mirrored', 4, 2, 'ABCDDCBA'],
    ['mirrored', 1, 3, 'AAA'],
  ] as const)('%s, %i conditions, %i rounds is %s', (order, conditions, rounds, expected) => {
    expect(letters(orderBlocks({ conditions, rounds, order, seed: null }))).toBe(expected);
  });

  it('mirrored in two rounds gives every condition the same mean place', () => {
    const places = orderBlocks({ conditions: 4, rounds: 2, order: 'mirrored', seed: null });
    for (const condition of [0, 1, 2, 3]) {
      expect(places.indexOf(condition) + places.lastIndexOf(condition)).toBe(7);
    }
  });

  it('random has each condition once a round, the same for the same seed', () => {
    const of = (seed: number) => orderBlocks({ conditions: 4, rounds: 50, order: 'random', seed });
    const places = of(7);
    for (let round = 0; round < 50; round++) {
      expect(new Set(places.slice(4 * round, 4 * round + 4))).toEqual(new Set([0, 1, 2, 3]));
    }
    expect(of(7)).toEqual(places);
    expect(of(8)).not.toEqual(places);
  });

  it('random takes every order of three equally often, over rounds and over seeds', () => {
    const rounds = 3000;
    const long = orderBlocks({ conditions: 3, rounds, order: 'random', seed: 1 });
    const byRound = Array.from({ length: rounds }, (_, i) => long.slice(3 * i, 3 * i + 3));
    const bySeed = Array.from({ length: rounds }, (_, seed) =>
      orderBlocks({ conditions: 3, rounds: 1, order: 'random', seed }),
    );
    for (const sample of [byRound, bySeed]) {
      const counts = new Map<string, number>();
      for (const round of sample.map(letters)) counts.set(round, (counts.get(round) ?? 0) + 1);
      expect(counts.size).toBe(6);
      const chi2 = [...counts.values()].reduce((sum, n) => sum + (n - 500) ** 2 / 500, 0);
      // 99.9 % point of chi-square with 5 degrees of freedom, from tables.
      expect(chi2).toBeLessThan(20.515);
    }
  });

  it('refuses what cannot be ordered', () => {
    const good = { conditions: 2, rounds: 2, order: 'as-listed', seed: null } as const;
    expect(() => orderBlocks({ ...good, conditions: 0 })).toThrow('conditions must be a whole');
    expect(() => orderBlocks({ ...good, rounds: 1.5 })).toThrow('rounds must be a whole number');
    expect(() => orderBlocks({ ...good, rounds: Number.NaN })).toThrow('got NaN');
    expect(() => orderBlocks({ ...good, order: 'random' })).toThrow('needs a seed');
  });
});
