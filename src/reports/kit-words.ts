import type { Kit } from '../core/measures/comparison-measure.ts';
import type { Condition } from '../core/recording/set-record.ts';

/** What a condition is called by. */
export type KitNames = Pick<Condition, 'implement' | 'ball' | 'feed'>;

/** Two kits by their names. */
export type TwoKits = Readonly<Record<Kit, KitNames>>;

const PARTS = ['implement', 'ball', 'feed'] as const;

/** Characters of a short name. */
const LONGEST = 24;

/** "580 mm racket with larger, slower training ball". */
export function kitWords({ implement, ball }: KitNames): string {
  return ball === '' ? implement : `${implement} with ${ball}`;
}

/**
 * What tells two kits apart, as short as it goes: the implement, else the ball, else the feed.
 * @returns null where they have the same names, or names too long to be said again and again
 * Checked: tests/reports/kit-words.test.ts
 */
export function shortNames({ smaller, larger }: TwoKits): Readonly<Record<Kit, string>> | null {
  const part = PARTS.find((one) => smaller[one] !== larger[one]);
  if (part === undefined || smaller[part] === '' || larger[part] === '') return null;
  const names = { smaller: smaller[part], larger: larger[part] };
  return Math.max(names.smaller.length, names.larger.length) > LONGEST ? null : names;
}

/**
 * Says when more than one thing differs between two kits, so that none of them can be held to be the reason.
 * @returns null where at most one differs
 * Checked: tests/reports/kit-words.test.ts
 */
export function changedTogether({ smaller, larger }: TwoKits): string | null {
  const changed = PARTS.filter((part) => smaller[part] !== larger[part]);
  if (changed.length < 2) return null;
  const nouns = changed.map((part) =>
    part === 'implement' ? implementNoun(smaller.implement, larger.implement) : part,
  );
  const named = `${nouns.slice(0, -1).join(', ')} and ${nouns.at(-1)!}`;
  const which = changed.length === 2 ? 'which of the two' : 'which of them';
  return `${named[0]!.toUpperCase()}${named.slice(1)} changed together: this cannot say ${which} made the difference.`;
}

/** The word that both names end in ("580 mm racket", "685 mm racket"), else the general one. */
function implementNoun(a: string, b: string): string {
  const last = a.split(' ').at(-1)!;
  return /^\p{L}+$/u.test(last) && last === b.split(' ').at(-1) ? last : 'implement';
}
