import type { ComparedMeasure } from '../../core/measures/comparison.ts';
import type { ComparedName } from '../../core/measures/comparison-measure.ts';
import { COMPARED } from '../../core/measures/comparison-words.ts';
import { unavailableWords } from '../../core/measures/thresholds.ts';
import { type Estimate, isUnavailable, type Unavailable } from '../../core/statistics/estimate.ts';
import { LETTERS, type Letter } from './comparable.ts';
import { type ComparedPair, letterOf } from './compared-pair.ts';

/** How a measure is told to a coach. */
interface Telling {
  readonly title: string;
  /** What its number is, with the unit. */
  readonly what: string;
  readonly value: (x: number) => string;
  /** On the scale that `contrast` compares on. */
  readonly scale: 'difference' | 'ratio';
  /** Of a difference, from SI: factor, decimals and unit. */
  readonly unit?: { readonly factor: number; readonly digits: number; readonly name: string };
  /** "With B ..." followed by how much. */
  readonly more: string;
}

const percent = (x: number): string => `${Math.max(0, 100 * x).toFixed(0)} %`;
const PERCENT = { factor: 100, digits: 0, name: 'percentage points' };

/** Checked: tests/screens/side-by-side-words.test.ts */
const TELLING: Readonly<Record<ComparedName, Telling>> = {
  score: {
    title: 'Score',
    what: 'points a ball, on average',
    value: (x) => `${x.toFixed(1)} points`,
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
    value: (x) => `${(100 * x).toFixed(1)} cm`,
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
    what: 'share of what one angle varies at contact that goes with the other',
    value: percent,
    scale: 'difference',
    unit: PERCENT,
    more: 'the two go together more',
  },
  manifold: {
    title: 'Elbow and wrist make up for each other',
    what: 'variation that leaves reach alone, for one part that changes it',
    value: (x) => `${Math.exp(2 * x).toFixed(1)} to 1`,
    scale: 'ratio',
    more: 'they make up for each other more',
  },
  speed: {
    title: 'Speed at contact',
    what: 'speed of the sweet spot against the shoulder, on average',
    value: (x) => `${x.toFixed(1)} m/s`,
    scale: 'difference',
    unit: { factor: 1, digits: 1, name: 'm/s' },
    more: 'the sweet spot is faster',
  },
};

/** One measure in words. */
export interface ToldMeasure {
  readonly name: ComparedName;
  readonly title: string;
  readonly what: string;
  readonly values: Readonly<Record<Letter, string>>;
  /** How large the difference is, with its interval; null where it is not known. */
  readonly difference: string | null;
  /** What follows from it. */
  readonly verdict: string;
  /** The side it speaks for. */
  readonly favours: Letter | null;
}

/** What a measure says of two sides, for a coach. Checked: tests/screens/side-by-side-words.test.ts */
export function toldMeasure(measure: ComparedMeasure, pair: ComparedPair): ToldMeasure {
  const { name, favours } = measure;
  const { title, what, value } = TELLING[name];
  const values = LETTERS.map((letter) => {
    const x = measure[pair.kits[letter].kit];
    return [letter, isUnavailable(x) ? 'not known' : value(x)] as const;
  });
  return {
    name,
    title,
    what,
    values: Object.fromEntries(values) as Record<Letter, string>,
    difference: differenceWords(measure, pair),
    verdict: verdictWords(measure, pair),
    favours: favours === null ? null : letterOf(pair, favours),
  };
}

/** How much more one side has of a measure: positive, or times above one, where `letter` has more. */
export interface Lead extends Estimate {
  readonly letter: Letter;
  readonly scale: Telling['scale'];
}

/** The difference seen from the side that has more. @returns why there is none */
export function leadOf(
  { name, contrast }: ComparedMeasure,
  pair: ComparedPair,
): Lead | Unavailable {
  if (isUnavailable(contrast)) return contrast;
  const { scale, unit } = TELLING[name];
  // The core compares half the logarithm of the ratio that is shown.
  const to = (x: number): number =>
    name === 'manifold' ? Math.exp(2 * x) : x * (unit?.factor ?? 1);
  const [value, low, high] = [to(contrast.value), to(contrast.low), to(contrast.high)];
  const isSmallerMore = value >= (scale === 'ratio' ? 1 : 0);
  const letter = letterOf(pair, isSmallerMore ? 'smaller' : 'larger');
  if (isSmallerMore) return { ...contrast, value, low, high, letter, scale };
  return scale === 'ratio'
    ? { ...contrast, value: 1 / value, low: 1 / high, high: 1 / low, letter, scale }
    : { ...contrast, value: -value, low: -high, high: -low, letter, scale };
}

function differenceWords(measure: ComparedMeasure, pair: ComparedPair): string | null {
  const lead = leadOf(measure, pair);
  if (isUnavailable(lead)) return null;
  const { more, unit } = TELLING[measure.name];
  const { letter, value, low, high } = lead;
  if (unit === undefined)
    return `With ${letter} ${more}: ${times(value)} times as much (95 % interval: ${times(low)} to ${times(high)} times).`;
  const by = (x: number): string => signed(x, unit.digits);
  return `With ${letter} ${more}: by ${by(value)} ${unit.name} (95 % interval: ${by(low)} to ${by(high)} ${unit.name}).`;
}

function verdictWords({ name, contrast, p, favours }: ComparedMeasure, pair: ComparedPair): string {
  if (isUnavailable(contrast)) return `Not known: ${unavailableWords(contrast)}.`;
  if (isUnavailable(p)) return `Not known whether it is chance: ${unavailableWords(p)}.`;
  if (COMPARED[name].favourable === 'neither') return 'Speaks for neither side.';
  if (favours === null) return 'Not shown: with so many measures side by side it may be chance.';
  return `Speaks for ${letterOf(pair, favours)}: ${COMPARED[name].better}.`;
}

function times(x: number): string {
  return x < 0.1 ? x.toFixed(2) : x.toFixed(1);
}

/** With a true minus sign, and none before a nothing. */
function signed(x: number, digits: number): string {
  const text = x.toFixed(digits);
  return Number(text) === 0 ? text.replace('-', '') : text.replace('-', '−');
}
