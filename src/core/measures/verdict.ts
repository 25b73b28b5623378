import type { Unavailable } from '../statistics/estimate.ts';
import { moreSwingsWords, unavailableWords } from './thresholds.ts';

/** What a measure says, for a coach. */
export interface Verdict<Answer extends string> {
  /** Swings that entered. */
  readonly n: number;
  /** In all or in the smallest class, as the measure counts them. */
  readonly minimumN: number;
  readonly answer: Answer | 'unknown';
  /** Whole sentences. */
  readonly words: string;
}

/** Entry of the table of thresholds for a measure that gives a verdict. */
interface Thresholds<Answer extends string> {
  readonly limits: { readonly minimumN: number };
  /** A whole sentence for each answer, and the words up to the reason, after a colon, when there is none. */
  readonly words: Readonly<Record<Answer | 'question', string>>;
  /** Names what there is too little of, as part of a sentence, where that is not simply swings. */
  readonly lacks?: (have: number, need: number) => string;
}

/** Verdict with an answer. */
export function verdictOf<Answer extends string>(
  { limits, words }: Thresholds<Answer>,
  n: number,
  answer: Answer,
): Verdict<Answer> {
  return { n, minimumN: limits.minimumN, answer, words: words[answer] };
}

/**
 * Verdict of a question that these swings cannot answer. Where a class of them is too small, so many more swings
 * are asked for as would fill it if they fell into the classes as before; of an empty class that is not known.
 * Checked: tests/measures/verdict.test.ts
 */
export function unknownVerdict(
  { limits, words, lacks }: Thresholds<never>,
  n: number,
  why: Unavailable,
): Verdict<never> {
  return {
    n,
    minimumN: limits.minimumN,
    answer: 'unknown',
    words: `${words.question} ${reasonWords(n, why, lacks)}`,
  };
}

function reasonWords(n: number, why: Unavailable, lacks: Thresholds<never>['lacks']): string {
  if (why.reason !== 'too-few') return `${unavailableWords(why)}.`;
  const isClass = why.have < n;
  // Of balls that are to be scored the sentence says it all: more swings alone would not help.
  if (lacks !== undefined && !isClass) return `${lacks(why.have, why.need)}.`;
  const swings = `${unavailableWords(why)}${isClass ? ' of the rarer kind' : ''}`;
  const lacking = `${lacks?.(why.have, why.need) ?? swings}.`;
  if (isClass && why.have === 0) return lacking;
  const swingsPerOne = isClass ? n / why.have : 1;
  return `${lacking} ${moreSwingsWords(Math.ceil((why.need - why.have) * swingsPerOne))}`;
}
