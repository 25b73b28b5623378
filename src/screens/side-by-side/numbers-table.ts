import type { ComparedMeasure, Comparison } from '../../core/measures/comparison.ts';
import { COMPARED } from '../../core/measures/comparison-words.ts';
import { isUnavailable } from '../../core/statistics/estimate.ts';
import { LETTERS } from './comparable.ts';
import { type ComparedPair, letterOf } from './compared-pair.ts';
import { shownContrast } from './measure-words.ts';
import { signed, TELLING } from './telling.ts';

/** A measure with everything that was computed of it. */
export interface NumbersRow {
  readonly label: string;
  /** In the order of the columns; the unit stands in each value that has one. */
  readonly cells: readonly (readonly [column: string, value: string])[];
}

const UNKNOWN = '–';
/** One decimal more than the cards show. */
const MORE_DIGITS = 1;

/** Every measure with values, difference or ratio, interval and p. Checked: tests/screens/side-by-side-words.test.ts */
export function numbersRows({ measures }: Comparison, pair: ComparedPair): NumbersRow[] {
  const against = `${letterOf(pair, 'smaller')} against ${letterOf(pair, 'larger')}`;
  return Object.values(measures).map((measure) => {
    const { name, p, pHolm } = measure;
    const contrast = shownContrast(measure);
    const print = printerOf(name);
    const [value, low, high] = isUnavailable(contrast)
      ? [UNKNOWN, UNKNOWN, UNKNOWN]
      : [print(contrast.value), print(contrast.low), print(contrast.high)];
    return {
      label: COMPARED[name].label,
      cells: [
        ...LETTERS.map((letter) => {
          const x = measure[pair.kits[letter].kit];
          return [
            letter,
            isUnavailable(x) ? UNKNOWN : TELLING[name].value(x, MORE_DIGITS),
          ] as const;
        }),
        [against, value],
        ['95 % from', low],
        ['95 % to', high],
        ['p by permutation', isUnavailable(p) ? UNKNOWN : p.p.toFixed(4)],
        ['p after Holm', isUnavailable(pHolm) ? UNKNOWN : pHolm.toFixed(4)],
      ],
    };
  });
}

function printerOf(name: ComparedMeasure['name']): (x: number) => string {
  const { unit } = TELLING[name];
  if (unit === undefined) return (x) => `${signed(x, 2)} times`;
  return (x) => `${signed(x, unit.digits + MORE_DIGITS)} ${unit.short ?? unit.name}`;
}
