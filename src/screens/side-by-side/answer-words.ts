import type { Comparison } from '../../core/measures/comparison.ts';
import type { Kit } from '../../core/measures/comparison-measure.ts';
import { COMPARED, DECISION } from '../../core/measures/comparison-words.ts';
import type { Decision } from '../../core/measures/decision.ts';
import type { Letter } from './comparable.ts';
import { type ComparedPair, isSameKit, letterOf } from './compared-pair.ts';

/** The answer as a coach reads it. */
export interface Answer {
  /** In a word or three. */
  readonly head: string;
  readonly sentence: string;
  /** What speaks for each side, as parts of sentences. */
  readonly speaksFor: Readonly<Record<Letter, readonly string[]>>;
  readonly open: readonly string[];
}

/** What a decision says of A and B. Checked: tests/screens/side-by-side-words.test.ts */
export function answerOf(decision: Decision, comparison: Comparison, pair: ComparedPair): Answer {
  const of = (letter: Letter) => saidFor(pair.kits[letter].kit, decision, comparison);
  const speaksFor = { A: of('A'), B: of('B') };
  if (isSameKit(pair))
    return {
      head: 'Same kit',
      sentence:
        'A and B are swung with the same kit, so there is none to choose. What differs between them is below.',
      speaksFor,
      open: [],
    };
  return { ...headOf(decision, pair), speaksFor, open: decision.open };
}

function saidFor(kit: Kit, { serves }: Decision, { measures }: Comparison): string[] {
  const speaking = Object.values(measures).filter(({ favours }) => favours !== null);
  if (speaking.length === 0) return serves === kit ? [DECISION.words.equalPart] : [];
  const said = speaking.filter(({ favours }) => favours === kit);
  const words = said.map(({ name }) => COMPARED[name].better);
  const isScoreSaid = said.some(({ name }) => name === 'score');
  return serves === kit && !isScoreSaid ? [...words, 'its score is no worse'] : words;
}

function headOf(decision: Decision, pair: ComparedPair): Pick<Answer, 'head' | 'sentence'> {
  const [smaller, larger] = [letterOf(pair, 'smaller'), letterOf(pair, 'larger')];
  switch (decision.answer) {
    case 'scale-down':
      return {
        head: 'Scale down',
        sentence: `${smaller}, the smaller kit, serves this player better.`,
      };
    case 'step-up':
      return {
        head: 'Step up',
        sentence: `${larger}, the larger kit, serves this player as well or better.`,
      };
    case 'stay':
      return { head: `Stay with ${pair.current}`, sentence: stayWords(decision, smaller, larger) };
    case 'not-enough':
      return { head: 'Not enough yet', sentence: moreWords(decision) };
  }
}

function stayWords({ serves }: Decision, smaller: Letter, larger: Letter): string {
  if (serves === 'torn')
    return 'The measures speak against each other, some for A and some for B. That is for the coach to weigh; until then nothing changes.';
  return serves === 'larger'
    ? `${larger}, the larger kit, serves this player as well or better; ${smaller} is not needed.`
    : `${smaller}, the smaller kit, serves this player better.`;
}

function moreWords({ n, minimumN, moreSwings: more }: Decision): string {
  const open = 'Which kit serves this player better cannot be said yet';
  if (more === null) return `${open}, and more swings like these are not known to settle it.`;
  const swings = more === 1 ? '1 more swing' : `${more} more swings`;
  return Math.min(n.smaller, n.larger) < minimumN
    ? `${open}: at least ${swings} with each ${more === 1 ? 'is' : 'are'} needed.`
    : `${open}: about ${swings} with each may settle it.`;
}
