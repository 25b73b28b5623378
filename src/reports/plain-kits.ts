import { DECISION } from '../core/measures/comparison-words.ts';
import { type ComparedKits, kitAdvice, signsFor } from './kit-advice.ts';
import { kitWords, shortNames } from './kit-words.ts';

/** What to try next, from two kits held against each other. Checked: tests/reports/plain-report.test.ts */
export function kitSentences(compared: ComparedKits): string[] {
  const { kits, decision } = compared;
  const both = decision.serves === null || decision.serves === 'torn';
  const { head, kit, sentence, score, movement, howSure, together } = kitAdvice(compared);
  const open = decision.open.length === 0 ? [] : [`Still open: ${decision.open.join('; ')}.`];
  return [
    ...(both
      ? [`The larger kit: ${kitWords(kits.larger)}. The smaller: ${kitWords(kits.smaller)}.`]
      : []),
    `${head}. ${kit === null ? '' : `${kit} `}${sentence[0]!.toUpperCase()}${sentence.slice(1)}`,
    `Score: ${lowerFirst(score)} Movement: ${lowerFirst(movement)}`,
    ...reasons(compared),
    ...open,
    `How sure: ${lowerFirst(howSure)}`,
    ...(together === null ? [] : [together]),
    `${sourceWords(compared)} ${DECISION.words.advice}`,
  ];
}

/** Differences between the kits, which is not what either set shows by itself. */
function reasons({ comparison, kits }: ComparedKits): string[] {
  const names = shortNames(kits) ?? { smaller: 'the smaller kit', larger: 'the larger kit' };
  return (['smaller', 'larger'] as const).flatMap((kit) => {
    const signs = signsFor(comparison, kit);
    const other = kit === 'smaller' ? 'larger' : 'smaller';
    return signs.length === 0
      ? []
      : [`With ${names[kit]}, compared with ${names[other]}: ${signs.join('; ')}.`];
  });
}

/** Which swings this is from: a single day may say something else than all of them. */
function sourceWords({ sets }: ComparedKits): string {
  return sets === 1
    ? 'These are the swings of this set alone; no other set has both kits.'
    : `These are all swings of this player with both kits, from ${sets} sets, as in “Side by side”.`;
}

function lowerFirst(words: string): string {
  return words.charAt(0).toLowerCase() + words.slice(1);
}
