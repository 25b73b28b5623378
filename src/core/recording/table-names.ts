import type { Segment } from '../arm/segments.ts';
import type { AxisColumns } from './csv-mapping.ts';

/** Three columns named alike but for x, y and z. */
export interface ColumnVector {
  /** The common name, for instance `gyr_x/y/z`. */
  readonly label: string;
  readonly columns: AxisColumns;
}

/** What the name of a vector says of it; null: nothing. */
export interface NameMeaning {
  /** `other`: neither an angular rate nor a specific force, so of no use here. */
  readonly kind: 'gyro' | 'accel' | 'other' | null;
  /** `elsewhere`: a sensor on another part of the body. */
  readonly place: Segment | 'elsewhere' | null;
  readonly side: 'left' | 'right' | null;
  readonly unit: 'rad/s' | 'deg/s' | 'm/s^2' | 'g' | 'unknown' | null;
}

/**
 * The columns that differ only in one letter x, y, z. Quaternions, which have a w beside them, are left out.
 * @returns in order of the x columns
 */
export function findVectors(header: readonly string[]): readonly ColumnVector[] {
  const names = new Set(header);
  return [...names].flatMap((name) => {
    // The letter of the axis stands late in a name more often than early.
    for (let at = name.length - 1; at >= 0; at--) {
      const isUpper = name[at] === 'X';
      if (!isUpper && name[at] !== 'x') continue;
      const along = (axis: string): string =>
        `${name.slice(0, at)}${isUpper ? axis.toUpperCase() : axis}${name.slice(at + 1)}`;
      if (!names.has(along('y')) || !names.has(along('z'))) continue;
      if (names.has(along('w'))) return [];
      const columns: AxisColumns = [name, along('y'), along('z')];
      return [{ label: `${name.slice(0, at)}x/y/z${name.slice(at + 1)}`, columns }];
    }
    return [];
  });
}

/** Where the letter of the axis stood, among the words of a name. */
const AXIS = '·';
const OTHER_QUANTITY = /^(mag|quat|euler|angle|pos|vel|lin|free|grav|user)/;
const ELSEWHERE =
  /^(back|leg|thigh|shank|foot|trunk|torso|chest|sternum|head|neck|pelvis|hip|knee|shoulder|scapula)/;
const IMPLEMENT =
  /^(implement|racket|racquet|bat|club|paddle|stick|tool|handle|blade|sword|hand)s?$/;
const FOREARM = /fore_?arm|lower_?arm|unterarm/;
const FOREARM_WORD = /^(fore|fa|wrist|radius|ulna)$/;
const UPPER_ARM = /upper_?arm|oberarm/;
const UPPER_ARM_WORD = /^(upper|ua|humerus|biceps|triceps|arm)$/;
/** As in `u_gx`: where a name begins with one letter. */
const BY_LETTER: Readonly<Record<string, Segment>> = {
  u: 'upperArm',
  f: 'forearm',
  i: 'implement',
};

/** What the common name of a vector says, by the words people use for sensors and arms. */
export function meaningOf({ label }: ColumnVector): NameMeaning {
  const words = wordsOf(label);
  const kind = kindOf(words);
  return { kind, place: placeOf(words), side: sideOf(words), unit: unitOf(label, words, kind) };
}

/** `upperArmGyrX` as upper, arm, gyr and the mark of the axis; digits stand alone. */
export function wordsOf(label: string): readonly string[] {
  const spaced = label.replace('x/y/z', AXIS).replace(/([a-z·])([A-Z])/g, '$1 $2');
  return spaced.toLowerCase().match(/[a-z]+|\d+|·/g) ?? [];
}

function kindOf(words: readonly string[]): NameMeaning['kind'] {
  const has = (pattern: RegExp): boolean => words.some((word) => pattern.test(word));
  if (has(/^(gyr|omega|angvel|angrate)/)) return 'gyro';
  if (has(/^ang/) && has(/^(vel|rate)/)) return 'gyro';
  if (has(OTHER_QUANTITY)) return 'other';
  if (has(/^acc/)) return 'accel';
  const stem = words[words.indexOf(AXIS) - 1];
  if (stem === 'g' || stem === 'w') return 'gyro';
  return stem === 'a' ? 'accel' : null;
}

function placeOf(words: readonly string[]): NameMeaning['place'] {
  if (words.some((word) => ELSEWHERE.test(word))) return 'elsewhere';
  if (words.some((word) => IMPLEMENT.test(word))) return 'implement';
  const joined = words.join('_');
  if (FOREARM.test(joined) || words.some((word) => FOREARM_WORD.test(word))) return 'forearm';
  if (UPPER_ARM.test(joined) || words.some((word) => UPPER_ARM_WORD.test(word))) return 'upperArm';
  return BY_LETTER[words[0] ?? ''] ?? null;
}

function sideOf(words: readonly string[]): NameMeaning['side'] {
  if (words.includes('right') || words.includes('r')) return 'right';
  return words.includes('left') || words.includes('l') ? 'left' : null;
}

const METRES_PER_SECOND_SQUARED = /(?<![a-z])m[\s_]*(\/|per|p)?[\s_]*s(ec)?[\s_^(]*-?[2²]/;

function unitOf(
  label: string,
  words: readonly string[],
  kind: NameMeaning['kind'],
): NameMeaning['unit'] {
  const name = label.toLowerCase();
  if (kind === 'gyro') {
    if (/mdps|mdeg|mrad|rpm|rev/.test(name)) return 'unknown';
    if (/rad(?!iu)/.test(name)) return 'rad/s';
    return /deg|dps|°/.test(name) ? 'deg/s' : null;
  }
  if (kind !== 'accel') return null;
  if (METRES_PER_SECOND_SQUARED.test(name)) return 'm/s^2';
  if (words.includes('mg')) return 'unknown';
  return words.includes('g') ? 'g' : null;
}
