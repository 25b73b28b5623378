import type { ComparedMeasure, Comparison } from '../../core/measures/comparison.ts';
import type { ComparedName } from '../../core/measures/comparison-measure.ts';
import { type Estimate, isUnavailable, type Unavailable } from '../../core/statistics/estimate.ts';
import { LETTERS, type Letter } from './comparable.ts';
import { type ComparedPair, letterOf } from './compared-pair.ts';
import { nameOf } from './pair-kits.ts';
import { signed, TELLING, type Telling } from './telling.ts';
import { verdictWords } from './verdict-words.ts';

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

/** A ratio from here on is called "far more": its interval reaches so far that the number says little. */
const FAR_MORE = 10;

/** What a measure says of two sides, for a coach. Checked: tests/screens/side-by-side-words.test.ts */
export function toldMeasure(
  measure: ComparedMeasure,
  pair: ComparedPair,
  comparison: Comparison,
): ToldMeasure {
  const { name, favours } = measure;
  const { title, what, value } = TELLING[name];
  const more = moreDigitsOf(measure);
  const values = LETTERS.map((letter) => {
    const x = measure[pair.kits[letter].kit];
    return [letter, isUnavailable(x) ? 'not known' : value(x, more)] as const;
  });
  return {
    name,
    title,
    what,
    values: Object.fromEntries(values) as Record<Letter, string>,
    difference: differenceWords(measure, pair),
    verdict: verdictWords(measure, pair, comparison),
    favours: favours === null ? null : letterOf(pair, favours),
  };
}

/** How much more one side has of a measure: positive, or times above one, where `letter` has more. */
export interface Lead extends Estimate {
  readonly letter: Letter;
  readonly scale: Telling['scale'];
}

/** The contrast on the scale and in the unit that a coach is told. */
export function shownContrast({ name, contrast }: ComparedMeasure): Estimate | Unavailable {
  if (isUnavailable(contrast)) return contrast;
  const { unit } = TELLING[name];
  // The core compares half the logarithm of the ratio that is shown.
  const to = (x: number): number =>
    name === 'manifold' ? Math.exp(2 * x) : x * (unit?.factor ?? 1);
  const { value, low, high } = contrast;
  return { ...contrast, value: to(value), low: to(low), high: to(high) };
}

/** The difference seen from the side that has more. @returns why there is none */
export function leadOf(measure: ComparedMeasure, pair: ComparedPair): Lead | Unavailable {
  const shown = shownContrast(measure);
  if (isUnavailable(shown)) return shown;
  const { scale } = TELLING[measure.name];
  const { value, low, high } = shown;
  const isSmallerMore = value >= (scale === 'ratio' ? 1 : 0);
  const letter = letterOf(pair, isSmallerMore ? 'smaller' : 'larger');
  if (isSmallerMore) return { ...shown, letter, scale };
  return scale === 'ratio'
    ? { ...shown, value: 1 / value, low: 1 / high, high: 1 / low, letter, scale }
    : { ...shown, value: -value, low: -high, high: -low, letter, scale };
}

/** One decimal more where the rounded values would differ by something else than the rounded difference. */
function moreDigitsOf(measure: ComparedMeasure): 0 | 1 {
  const { unit } = TELLING[measure.name];
  const { smaller, larger } = measure;
  const contrast = shownContrast(measure);
  if (unit === undefined || isUnavailable(contrast)) return 0;
  if (isUnavailable(smaller) || isUnavailable(larger)) return 0;
  const { factor, digits } = unit;
  const rounded = (x: number): number => Number((factor * x).toFixed(digits));
  const apart = (rounded(smaller) - rounded(larger)).toFixed(digits);
  return Number(apart) === Number(contrast.value.toFixed(digits)) ? 0 : 1;
}

function differenceWords(measure: ComparedMeasure, pair: ComparedPair): string | null {
  const lead = leadOf(measure, pair);
  if (isUnavailable(lead)) return null;
  const { more, unit } = TELLING[measure.name];
  const { letter, value, low, high } = lead;
  const side = `With ${nameOf(pair, letter)}`;
  if (unit === undefined)
    return value >= FAR_MORE
      ? `${side} ${more.replace('more', 'far more')}; how much: “All numbers”.`
      : `${side} ${more}: ${times(value)} times as much (95 % interval: ${times(low)} to ${times(high)} times).`;
  const digits = unit.digits + moreDigitsOf(measure);
  const by = (x: number): string => signed(x, digits);
  return `${side} ${more}: by ${by(value)} ${unit.name} (95 % interval: ${by(low)} to ${by(high)} ${unit.name}).`;
}

function times(x: number): string {
  return x < 0.1 ? x.toFixed(2) : x.toFixed(1);
}
