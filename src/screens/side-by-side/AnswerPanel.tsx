import type { Answer } from './answer-words.ts';
import { LETTERS } from './comparable.ts';
import { LetterBadge } from './LetterBadge.tsx';

/** The answer first, then what speaks for each side and what is open. */
export function AnswerPanel({ answer }: { readonly answer: Answer }) {
  const { head, sentence, speaksFor, open } = answer;
  return (
    <section class="side-answer" aria-labelledby="side-answer-head">
      <h2 id="side-answer-head">{head}</h2>
      <p class="side-sentence">{sentence}</p>
      <div class="side-reasons">
        {LETTERS.map((letter) => (
          <div key={letter}>
            <h3>
              Speaks for <LetterBadge letter={letter} />
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
