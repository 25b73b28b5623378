import type { PlayedCondition, PlayedSet } from './worker-words.ts';

/** A condition of a player over all their sets. Its sets are those with it, newest first. */
export interface Comparable {
  /** The same for the same implement, ball and feed. */
  readonly key: string;
  readonly implement: string;
  readonly ball: string;
  readonly feed: string;
  /** Wrist to sweet spot as last measured, metres. */
  readonly implementLengthM: number;
  readonly sets: readonly ComparableSet[];
}

/** The swings of a condition in one set. */
export interface ComparableSet extends Pick<PlayedSet, 'setId' | 'startedAtMs'> {
  readonly swings: number;
}

/** One side of a comparison: a condition, and which of its sets. */
export interface Group {
  readonly key: string;
  readonly setIds: readonly string[];
}

export const LETTERS = ['A', 'B'] as const;
export type Letter = (typeof LETTERS)[number];
export type Choice = Readonly<Record<Letter, Group>>;

/**
 * What a player can compare: shorter implements first, among equals what was played first. @param sets newest first
 * Checked: tests/screens/comparable.test.ts
 */
export function comparableOf(sets: readonly PlayedSet[]): Comparable[] {
  const found = new Map<string, Comparable>();
  for (const { setId, startedAtMs, conditions } of sets.toReversed()) {
    for (const condition of conditions) {
      const { swings, ...names } = condition;
      const key = keyOf(condition);
      const before = found.get(key)?.sets ?? [];
      found.set(key, { key, ...names, sets: joined({ setId, startedAtMs, swings }, before) });
    }
  }
  return [...found.values()].sort((a, b) => a.implementLengthM - b.implementLengthM);
}

/** One kit whose length was corrected within a set counts as one. */
function joined(set: ComparableSet, before: readonly ComparableSet[]): ComparableSet[] {
  const [newest, ...older] = before;
  if (newest?.setId !== set.setId) return [set, ...before];
  return [{ ...set, swings: newest.swings + set.swings }, ...older];
}

function keyOf({ implement, ball, feed }: Omit<PlayedCondition, 'swings'>): string {
  return JSON.stringify([implement, ball, feed]);
}

/**
 * What is compared unless the coach says otherwise: two conditions of the newest set that has two, over all sets that
 * have both, because one day is the fairest comparison; else the two played last; else the newest set of the only
 * condition with those before it.
 * @param comparable in the order of {@link comparableOf}, which A and B then keep
 * @returns null when there is nothing to compare with
 * Checked: tests/screens/comparable.test.ts
 */
export function firstChoice(
  comparable: readonly Comparable[],
  sets: readonly PlayedSet[],
): Choice | null {
  const choice = choiceOf(comparable, twoKeys(sets));
  if (choice !== null) return choice;
  const [only] = comparable;
  const [newest, ...older] = only === undefined ? [] : idsOf(only);
  if (only === undefined || newest === undefined || older.length === 0) return null;
  return { A: { key: only.key, setIds: older }, B: { key: only.key, setIds: [newest] } };
}

/**
 * The two conditions of one set, over all sets that have both. @returns null unless it has exactly two
 * Checked: tests/screens/comparable.test.ts
 */
export function choiceWithin(
  comparable: readonly Comparable[],
  sets: readonly PlayedSet[],
  setId: string,
): Choice | null {
  const keys = keysOf(sets.find((set) => set.setId === setId));
  return keys.length === 2 ? choiceOf(comparable, keys) : null;
}

/** Two conditions over the sets that have both; over all of them where none has. */
function choiceOf(comparable: readonly Comparable[], keys: readonly string[]): Choice | null {
  const [a, b] = comparable.filter(({ key }) => keys.includes(key));
  if (a === undefined || b === undefined) return null;
  const both = idsOf(a).filter((id) => idsOf(b).includes(id));
  const setIdsOf = (one: Comparable) => (both.length > 0 ? both : idsOf(one));
  return {
    A: { key: a.key, setIds: setIdsOf(a) },
    B: { key: b.key, setIds: setIdsOf(b) },
  };
}

function keysOf(set: PlayedSet | undefined): string[] {
  return [...new Set((set?.conditions ?? []).map(keyOf))];
}

function twoKeys(sets: readonly PlayedSet[]): string[] {
  const withTwo = sets.map(keysOf).find((keys) => keys.length >= 2);
  return (withTwo ?? [...new Set(sets.flatMap(keysOf))]).slice(0, 2);
}

/** Every set of a condition. */
export function idsOf({ sets }: Comparable): string[] {
  return sets.map(({ setId }) => setId);
}

/** The condition of the newest block: what the player is playing with now. @param sets newest first */
export function keyPlayedLast(sets: readonly PlayedSet[]): string | null {
  const newest = sets[0]?.conditions[sets[0].last];
  return newest === undefined ? null : keyOf(newest);
}

/** Swings of a side. */
export function swingsIn({ sets }: Comparable, { setIds }: Group): number {
  return sets
    .filter(({ setId }) => setIds.includes(setId))
    .reduce((sum, { swings }) => sum + swings, 0);
}
