import type { Comparison } from '../../core/measures/comparison.ts';
import { DECISION } from '../../core/measures/comparison-words.ts';
import type { Decision } from '../../core/measures/decision.ts';
import { type KitAdvice, kitAdvice, signsFor } from '../../reports/kit-advice.ts';
import type { Letter } from './comparable.ts';
import { type ComparedPair, isSameKit } from './compared-pair.ts';
import { comparedKits } from './pair-kits.ts';

/** The answer as a coach reads it. */
export interface Answer {
  /** In a word or three. */
  readonly head: string;
  readonly sentence: string;
  /** The rest of what is advised; null where there is no kit to choose. */
  readonly advice: KitAdvice | null;
  /** What speaks for each side, as parts of sentences. */
  readonly speaksFor: Readonly<Record<Letter, readonly string[]>>;
  readonly open: readonly string[];
}

/** What a decision says of A and B. Checked: tests/screens/side-by-side-words.test.ts */
export function answerOf(decision: Decision, comparison: Comparison, pair: ComparedPair): Answer {
  const of = (letter: Letter): string[] => {
    const { kit } = pair.kits[letter];
    const { serves } = decision;
    const signs = signsFor(comparison, kit);
    if (serves !== kit || isSameKit(pair)) return signs;
    if (signs.length === 0) return [DECISION.words.equalPart];
    const isScoreSaid = comparison.measures.score.favours === kit;
    return isScoreSaid ? signs : [...signs, 'its score is no worse'];
  };
  const speaksFor = { A: of('A'), B: of('B') };
  if (isSameKit(pair))
    return {
      head: 'Same kit',
      sentence:
        'A and B are swung with the same kit, so there is none to choose. What differs between them is below.',
      advice: null,
      speaksFor,
      open: [],
    };
  const advice = kitAdvice(comparedKits(pair, comparison, decision));
  const { head, sentence } = advice;
  return { head, sentence, advice, speaksFor, open: decision.open };
}
