import type { Comparison } from '../../core/measures/comparison.ts';
import type { Decision } from '../../core/measures/decision.ts';
import type { ComparedKits } from '../../reports/kit-advice.ts';
import { shortNames, type TwoKits } from '../../reports/kit-words.ts';
import type { Letter } from './comparable.ts';
import { type ComparedPair, dayOf, letterOf } from './compared-pair.ts';

/** A compared pair as advice is given of it. Checked: tests/screens/side-by-side-words.test.ts */
export function comparedKits(
  pair: ComparedPair,
  comparison: Comparison,
  decision: Decision,
): ComparedKits {
  const { A, B } = pair.kits;
  const chosen = [A, B].flatMap(({ comparable, group }) =>
    comparable.sets.filter(({ setId }) => group.setIds.includes(setId)),
  );
  return {
    kits: kitNames(pair),
    comparison,
    decision,
    days: new Set(chosen.map(dayOf)).size,
    sets: new Set(chosen.map(({ setId }) => setId)).size,
  };
}

function kitNames(pair: ComparedPair): TwoKits {
  const of = (kit: 'smaller' | 'larger') => pair.kits[letterOf(pair, kit)].comparable;
  return { smaller: of('smaller'), larger: of('larger') };
}

/** What a side is called where there is room for more than its letter: what tells its kit from the other. */
export function nameOf(pair: ComparedPair, letter: Letter): string {
  return shortNames(kitNames(pair))?.[pair.kits[letter].kit] ?? letter;
}
