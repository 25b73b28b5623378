import type { ComparedName } from '../../core/measures/comparison-measure.ts';

/** How a measure is told to a coach. */
export interface Telling {
  readonly title: string;
  /** What its number is, with the unit. */
  readonly what: string;
  readonly value: (x: number, moreDigits?: number) => string;
  /** On the scale that `contrast` compares on. */
  readonly scale: 'difference' | 'ratio';
  /** Of a difference, from SI: factor, decimals and unit. */
  readonly unit?: {
    readonly factor: number;
    readonly digits: number;
    readonly name: string;
    readonly short?: string;
  };
  /** "With B ..." followed by how much; has the word "more", which "far" can stand before. */
  readonly more: string;
}

const percent = (x: number, moreDigits = 0): string => `${signed(100 * x, moreDigits)} %`;
const PERCENT = { factor: 100, digits: 0, name: 'percentage points', short: '%-points' };

/** Checked: tests/screens/side-by-side-words.test.ts */
export const TELLING: Readonly<Record<ComparedName, Telling>> = {
  score: {
    title: 'Score',
    what: 'points a ball, on average',
    value: (x, moreDigits = 0) => `${signed(x, 1 + moreDigits)} points`,
    scale: 'difference',
    unit: { factor: 1, digits: 1, name: 'points' },
    more: 'a ball scores more',
  },
  hitRate: {
    title: 'Accurate balls',
    what: 'share of balls with full points',
    value: percent,
    scale: 'difference',
    unit: PERCENT,
    more: 'more balls are accurate',
  },
  spread: {
    title: 'Spread of reach at contact',
    what: 'how much reach differs from swing to swing (standard deviation)',
    value: (x, moreDigits = 0) => `${signed(100 * x, 1 + moreDigits)} cm`,
    scale: 'ratio',
    more: 'reach spreads more',
  },
  feedback: {
    title: 'Does reach tell a good ball?',
    what: 'spread of reach on accurate balls, as a share of that on other balls',
    value: percent,
    scale: 'ratio',
    more: 'accurate and other balls are more alike in reach',
  },
  narrowing: {
    title: 'Narrowing of reach',
    what: 'spread left at contact, as a share of the widest in the swing',
    value: percent,
    scale: 'ratio',
    more: 'more spread is left at contact',
  },
  distalShare: {
    title: 'Forearm and hand',
    what: 'their share in the spread of reach; above 100 %, the upper arm takes some of it back',
    value: percent,
    scale: 'difference',
    unit: PERCENT,
    more: 'forearm and hand carry more of it',
  },
  coupling: {
    title: 'Upper arm and forearm together',
    what: 'share of what one angle varies at contact that goes with the other; near nothing it may come out below 0',
    value: percent,
    scale: 'difference',
    unit: PERCENT,
    more: 'the two go together more',
  },
  manifold: {
    title: 'Elbow and wrist make up for each other',
    what: 'variation that leaves reach alone, for one part that changes it',
    value: (x, moreDigits = 0) => `${signed(Math.exp(2 * x), 1 + moreDigits)} to 1`,
    scale: 'ratio',
    more: 'they make up for each other more',
  },
  speed: {
    title: 'Speed at contact',
    what: 'how fast the sweet spot moves, seen from the shoulder, on average',
    value: (x, moreDigits = 0) => `${signed(x, 1 + moreDigits)} m/s`,
    scale: 'difference',
    unit: { factor: 1, digits: 1, name: 'm/s' },
    more: 'the sweet spot is faster',
  },
};

/** With a true minus sign, and none before a nothing. */
export function signed(x: number, digits: number): string {
  const text = x.toFixed(digits);
  return Number(text) === 0 ? text.replace('-', '') : text.replace('-', '−');
}
