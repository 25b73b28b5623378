import { type Choice, type Comparable, keyPlayedLast, type Letter } from './comparable.ts';
import { type ComparedPair, kitsOf, type PairKit } from './compared-pair.ts';
import type { PlayedSet } from './worker-words.ts';

/** What only the coach knows of two kits. */
export type Told = Partial<Record<'larger' | 'current', Letter>>;

/**
 * Both sides of a choice. The kit played now is that of the newest block unless the coach says otherwise.
 * @param sets newest first
 * Checked: tests/screens/side-by-side-model.test.ts
 */
export function pairOf(
  comparable: readonly Comparable[] | null,
  sets: readonly PlayedSet[] | null,
  choice: Choice | null,
  told: Told,
): ComparedPair | null {
  if (comparable === null || sets === null || choice === null) return null;
  const of = (letter: Letter) => comparable.findIndex(({ key }) => key === choice[letter].key);
  const [a, b] = [of('A'), of('B')];
  const kits = kitsOf(
    { place: a, of: comparable[a]! },
    { place: b, of: comparable[b]! },
    told.larger,
  );
  const side = (letter: Letter, at: number): PairKit => ({
    letter,
    kit: kits[letter],
    comparable: comparable[at]!,
    group: choice[letter],
  });
  const last = keyPlayedLast(sets);
  const newest = last === choice.A.key && last !== choice.B.key ? 'A' : 'B';
  return {
    kits: { A: side('A', a), B: side('B', b) },
    isLengthEqual: comparable[a]!.implementLengthM === comparable[b]!.implementLengthM,
    current: told.current ?? newest,
  };
}
