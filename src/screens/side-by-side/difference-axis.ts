import type { ComparedMeasure } from '../../core/measures/comparison.ts';
import { COMPARED } from '../../core/measures/comparison-words.ts';
import { isUnavailable } from '../../core/statistics/estimate.ts';
import type { Letter } from './comparable.ts';
import type { ComparedPair } from './compared-pair.ts';
import { leadOf } from './measure-words.ts';

/** Where a difference lies between A on the left and B on the right: -1 to 1, 0 is no difference. */
export interface DifferenceAxis {
  readonly at: number;
  readonly low: number;
  readonly high: number;
  readonly left: string;
  readonly right: string;
}

/** Of a measure that speaks for no side, which way it goes and no more. */
const AXIS_WORDS = { higher: 'more', lower: 'less', neither: 'faster' } as const;

/** The longer half of an interval ends so far from the middle. */
const REACHES = 0.86;

/**
 * A difference on an axis with A's side left and B's right: the dot lies on the side of the better one, or of the
 * faster one where faster is not better. Ratios lie as their logarithms, so that twice and half are as far off.
 * @returns null where the difference is not known
 * Checked: tests/screens/side-by-side-words.test.ts
 */
export function differenceAxis(
  measure: ComparedMeasure,
  pair: ComparedPair,
): DifferenceAxis | null {
  const lead = leadOf(measure, pair);
  if (isUnavailable(lead)) return null;
  const { favourable } = COMPARED[measure.name];
  const side = favourable === 'lower' ? other(lead.letter) : lead.letter;
  const to = lead.scale === 'ratio' ? Math.log : (x: number) => x;
  const sign = side === 'A' ? -1 : 1;
  const ends = [sign * to(lead.low), sign * to(lead.high)] as const;
  const widest = Math.max(...ends.map(Math.abs)) / REACHES || 1;
  const word = measure.favours === null ? AXIS_WORDS[favourable] : 'better';
  return {
    at: (sign * to(lead.value)) / widest,
    low: Math.min(...ends) / widest,
    high: Math.max(...ends) / widest,
    left: `${word} with A`,
    right: `${word} with B`,
  };
}

function other(letter: Letter): Letter {
  return letter === 'A' ? 'B' : 'A';
}
