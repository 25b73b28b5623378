import type { ComparedMeasure, Comparison } from '../../core/measures/comparison.ts';
import { COMPARED } from '../../core/measures/comparison-words.ts';
import { isUnavailable, type Unavailable } from '../../core/statistics/estimate.ts';
import type { PictureTable } from '../pictures/picture-spec.ts';
import { estimateCells } from '../pictures/read-set.ts';
import { LETTERS } from './comparable.ts';
import { type ComparedPair, letterOf } from './compared-pair.ts';

/** Everything the comparison computed, as the core has it, SI units. */
export function numbersTable({ measures }: Comparison, pair: ComparedPair): PictureTable {
  const [smaller, larger] = [letterOf(pair, 'smaller'), letterOf(pair, 'larger')];
  return {
    columns: [
      { name: 'Measure', digits: 0 },
      ...LETTERS.map((letter) => ({ name: letter, digits: 4 })),
      { name: `${smaller} against ${larger}`, digits: 0 },
      { name: 'Value', digits: 4 },
      { name: '95 % from', digits: 4 },
      { name: '95 % to', digits: 4 },
      { name: 'p by permutation', digits: 4 },
      { name: 'p after Holm', digits: 4 },
    ],
    rows: Object.values(measures).map((measure) => rowOf(measure, pair)),
  };
}

function rowOf({ name, contrast, p, pHolm, ...values }: ComparedMeasure, pair: ComparedPair) {
  const known = (x: number | Unavailable) => (isUnavailable(x) ? null : x);
  return [
    COMPARED[name].label,
    ...LETTERS.map((letter) => known(values[pair.kits[letter].kit])),
    COMPARED[name].scale,
    ...estimateCells(contrast),
    isUnavailable(p) ? null : p.p,
    known(pHolm),
  ];
}
