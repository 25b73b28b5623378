import type { KitAdvice } from '../../reports/kit-advice.ts';
import type { Answer } from './answer-words.ts';
import { LETTERS } from './comparable.ts';
import type { ComparedPair } from './compared-pair.ts';
import { LetterBadge } from './LetterBadge.tsx';
import { nameOf } from './pair-kits.ts';

interface Props {
  readonly answer: Answer;
  readonly pair: ComparedPair;
  /** Another is being computed. */
  readonly isStale: boolean;
}

/** The answer first, then what speaks for each side and what is open. */
export function AnswerPanel({ answer, pair, isStale }: Props) {
  const { head, sentence, advice, speaksFor, open } = answer;
  return (
    <section class="side-answer" aria-labelledby="side-answer-head" aria-busy={isStale}>
      <h2 id="side-answer-head">{head}</h2>
      {advice !== null && advice.kit !== null && <p class="side-kit">{advice.kit}</p>}
      <p class="side-sentence">{sentence}</p>
      {advice !== null && <AdviceLines advice={advice} />}
      <div class="side-reasons">
        {LETTERS.map((letter) => (
          <div key={letter}>
            <h3>
              Speaks for <LetterBadge letter={letter} name={nameOf(pair, letter)} />
            </h3>
            <Reasons reasons={speaksFor[letter]} none="Nothing shown." />
          </div>
        ))}
        {open.length > 0 && (
          <div>
            <h3>Still open</h3>
            <Reasons reasons={open} none="" />
          </div>
        )}
      </div>
      <p class="soft">Advice, not a verdict: the coach knows the player and decides.</p>
    </section>
  );
}

function AdviceLines({ advice }: { readonly advice: KitAdvice }) {
  const { score, movement, howSure, together } = advice;
  const lines = [
    ['Score', score],
    ['Movement', movement],
    ['How sure', howSure],
  ] as const;
  return (
    <>
      <dl class="side-lines">
        {lines.map(([name, words]) => (
          <div key={name}>
            <dt>{name}:</dt>
            <dd>{words}</dd>
          </div>
        ))}
      </dl>
      {together !== null && <p>{together}</p>}
    </>
  );
}

function Reasons({
  reasons,
  none,
}: {
  readonly reasons: readonly string[];
  readonly none: string;
}) {
  if (reasons.length === 0) return <p class="soft">{none}</p>;
  return (
    <ul>
      {reasons.map((words) => (
        <li key={words}>
          {words[0]!.toUpperCase()}
          {words.slice(1)}
        </li>
      ))}
    </ul>
  );
}
