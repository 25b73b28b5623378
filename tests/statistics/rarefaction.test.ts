import { describe, expect, test } from 'vitest';
import { rarefiedCount } from '../../src/core/statistics/rarefaction.ts';

/** Things that each of five rows shows. */
const ROWS = [
  [0, 1, 2],
  [0, 1],
  [0, 3],
  [0, 4, 5, 6],
  [0, 1, 6],
];
const FREQUENCIES = [0, 1, 2, 3, 4, 5, 6].map(
  (thing) => ROWS.filter((row) => row.includes(thing)).length,
);

/** Mean number of different things over all choices of m rows, by counting them out. */
function counted(m: number): number {
  const counts: number[] = [];
  for (let choice = 0; choice < 1 << ROWS.length; choice++) {
    const rows = ROWS.filter((_, i) => (choice >> i) & 1);
    if (rows.length === m) counts.push(new Set(rows.flat()).size);
  }
  return counts.reduce((sum, count) => sum + count, 0) / counts.length;
}

describe('rarefiedCount', () => {
  test.each([1, 2, 3, 4, 5])('is the mean over all choices of %d rows', (m) => {
    expect(rarefiedCount(FREQUENCIES, 5, m)).toBeCloseTo(counted(m), 12);
  });

  test('things that no row shows do not count', () => {
    expect(rarefiedCount([0, 0, 2], 5, 5)).toBe(1);
    expect(rarefiedCount([], 5, 2)).toBe(0);
  });

  test.each([0, 6, 1.5])('refuses to rarefy five rows to %d', (m) => {
    expect(() => rarefiedCount(FREQUENCIES, 5, m)).toThrow(RangeError);
  });
});
