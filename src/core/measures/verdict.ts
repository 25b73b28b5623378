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

/**
 * Verdict of a question that these swings cannot answer.
 * @param question words up to the reason, which follows a colon
 */
export function unknownVerdict(
  n: number,
  minimumN: number,
  question: string,
  why: Unavailable,
): Verdict<never> {
  const sentence = `${question} ${unavailableWords(why)}.`;
  return {
    n,
    minimumN,
    answer: 'unknown',
    words:
      why.reason === 'too-few' ? `${sentence} ${moreSwingsWords(why.need - why.have)}` : sentence,
  };
}
