import { expect, test } from 'vitest';
import type { TwoConditions } from '../../src/core/measures/comparison-measure.ts';
import { bothPictures } from '../../src/screens/side-by-side/both-pictures.ts';
import { comparableOf } from '../../src/screens/side-by-side/comparable.ts';
import type { ComparedPair } from '../../src/screens/side-by-side/compared-pair.ts';
import { PLAYERS, virtualSet } from '../measures/virtual-players.ts';
import { comparedOf, playedSet } from './played-sets.ts';

const [short, full] = comparableOf([
  playedSet('s', 1, ['short', 'standard', 12], ['full', 'standard', 10]),
]);
const scored = (n: number) =>
  virtualSet(PLAYERS.controlled, n, n).map((swing) => ({ ...swing, points: 10 }));
const SETS: TwoConditions = { smaller: scored(12), larger: scored(10) };

function pair(isTurned: boolean): ComparedPair {
  const side = (comparable: typeof short, kit: 'smaller' | 'larger') =>
    ({ kit, comparable: comparable!, group: { key: comparable!.key, setIds: ['s'] } }) as const;
  const kits = [side(short, 'smaller'), side(full, 'larger')] as const;
  const [A, B] = isTurned ? [kits[1], kits[0]] : kits;
  return {
    kits: { A: { letter: 'A', ...A }, B: { letter: 'B', ...B } },
    isLengthEqual: false,
    current: 'B',
  };
}

test('pictures call each side by its letter and what tells its kit, whichever stands first', () => {
  const words = (isTurned: boolean) =>
    bothPictures(comparedOf(SETS), pair(isTurned)).map((picture) => picture.words);
  const [funnels, scores] = words(false);
  expect(funnels).toMatch(/^A, short racket: .* 12 swings\. B, full racket: .* 10 swings\.$/);
  expect(scores).toBe('Scored balls: 12 with A, short racket; 10 with B, full racket.');
  expect(words(true)[1]).toBe('Scored balls: 10 with A, full racket; 12 with B, short racket.');
});
