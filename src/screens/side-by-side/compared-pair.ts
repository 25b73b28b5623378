import type { Kit } from '../../core/measures/comparison-measure.ts';
import type { Comparable, Group, Letter } from './comparable.ts';

/** One side of a comparison. */
export interface PairKit {
  readonly letter: Letter;
  readonly kit: Kit;
  readonly comparable: Comparable;
  readonly group: Group;
}

/** Both sides, which kit is the larger one, and which the player plays with now. */
export interface ComparedPair {
  readonly kits: Readonly<Record<Letter, PairKit>>;
  /** Then it is for the coach to say which kit is the larger one. */
  readonly isLengthEqual: boolean;
  readonly current: Letter;
}

interface Placed {
  /** In the list of conditions. */
  readonly place: number;
  readonly of: Comparable;
}

/**
 * The longer implement is the larger kit. Equally long, it is what the coach says, or the one later in the list, where
 * kit stands that came later and so is likely to be harder.
 * Checked: tests/screens/comparable.test.ts
 */
export function kitsOf(a: Placed, b: Placed, told: Letter | undefined): Record<Letter, Kit> {
  const longer = a.of.implementLengthM - b.of.implementLengthM;
  const isALarger =
    longer !== 0 ? longer > 0 : told === undefined ? a.place > b.place : told === 'A';
  return isALarger ? { A: 'larger', B: 'smaller' } : { A: 'smaller', B: 'larger' };
}

/** The letter of a kit. */
export function letterOf({ kits }: ComparedPair, kit: Kit): Letter {
  return kits.A.kit === kit ? 'A' : 'B';
}

/** Both sides are swung with the same implement and ball: there is no kit to choose between. */
export function isSameKit({ kits: { A, B } }: ComparedPair): boolean {
  return (
    A.comparable.implement === B.comparable.implement && A.comparable.ball === B.comparable.ball
  );
}

/** Why two sides cannot be compared, in words; null when they can. @param sets of this player */
export function problemOf(sets: number, pair: ComparedPair | null): string | null {
  if (sets === 0) return 'No set of this player is stored on this device.';
  if (pair === null)
    return 'This player has one set under one condition. Play a block with other kit, or another set, to have something to compare with.';
  const { A, B } = pair.kits;
  for (const { letter, group } of [A, B])
    if (group.setIds.length === 0) return `No set is chosen for ${letter}. Tick one at least.`;
  const isShared = A.group.setIds.some((id) => B.group.setIds.includes(id));
  return A.comparable.key === B.comparable.key && isShared
    ? 'A and B hold the same swings. Choose another condition for one of them, or other sets.'
    : null;
}

/** What the coach must know before reading the numbers. Checked: tests/screens/side-by-side-words.test.ts */
export function cautionsOf({ kits: { A, B } }: ComparedPair, isScoredAlike: boolean): string[] {
  const days = [A, B].map(({ comparable, group }) =>
    comparable.sets.filter(({ setId }) => group.setIds.includes(setId)).map(dayOf),
  ) as [string[], string[]];
  const sameDays =
    days[0].every((day) => days[1].includes(day)) && days[1].every((day) => days[0].includes(day));
  const sameSets = String(A.group.setIds.toSorted()) === String(B.group.setIds.toSorted());
  const sameZeroing =
    sameSets && A.group.setIds.length === 1 && A.comparable.implement === B.comparable.implement;
  return [
    ...(sameDays
      ? []
      : [
          'A and B were played on different days: whatever else changed in between is in the differences too. Both kits in one set, block by block, are compared most fairly.',
        ]),
    ...(sameZeroing
      ? []
      : [
          'The arm was zeroed anew between A and B, which may shift reach itself by up to a centimetre: only how much it varies is compared.',
        ]),
    ...(Math.max(...days.map((of) => new Set(of).size)) > 1
      ? [
          'Several days are taken together: what reach shifts from day to day makes its spread look a little larger.',
        ]
      : []),
    ...(isScoredAlike
      ? []
      : [
          'The sets were scored by different points. Points are left out, and without them no kit can be advised.',
        ]),
  ];
}

/** The day of a set where the device is. */
export function dayOf({ startedAtMs }: { readonly startedAtMs: number }): string {
  return new Date(startedAtMs).toDateString();
}
