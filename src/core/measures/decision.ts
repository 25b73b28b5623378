import { isUnavailable } from '../statistics/estimate.ts';
import type { ComparedMeasure, Comparison } from './comparison.ts';
import type { Kit } from './comparison-measure.ts';
import { COMPARED, COMPARISON, DECISION } from './comparison-words.ts';
import { GUARDS, type Guard, isNoWorse, margin } from './decision-margins.ts';
import { moreSwings } from './decision-swings.ts';
import { unavailableWords } from './thresholds.ts';

/** A reading of a comparison, in words. Advice, not a verdict. */
export interface Decision {
  readonly n: Comparison['n'];
  readonly minimumN: number;
  readonly answer: 'stay' | 'scale-down' | 'step-up' | 'not-enough';
  /** The kit that serves better; 'torn' when measures speak for both; null when nothing is settled. */
  readonly serves: Kit | 'torn' | null;
  /** What speaks for changing from the current kit and what against it, as parts of sentences. */
  readonly speaksFor: readonly string[];
  readonly speaksAgainst: readonly string[];
  /** What is still open. */
  readonly open: readonly string[];
  /** With each kit, to settle it; null when settled, or when more swings are not known to help. */
  readonly moreSwings: number | null;
  /** Whole sentences for a coach. */
  readonly words: string;
}

const { limits: LIMITS } = COMPARISON;
const { words: WORDS } = DECISION;

/**
 * Which kit serves this player better. The theory: scaled kit is worth its price when it makes the score better, or
 * the movement: reach nearly the same on accurate balls and spread on the others, a funnel that narrows, forearm and
 * hand in charge, segments that work together. Where the full-size kit is equal or better, it is the one to play.
 *
 * 1. A measure speaks for a kit when its difference is shown (Holm over the family, 5 %) in the direction that
 *    COMPARED calls favourable. Speed speaks for neither.
 * 2. Measures speak for both kits: torn. Nothing changes, and the words name both sides; a gain in movement
 *    is never traded for score, or score for movement, in silence.
 * 3. All that speak, speak for one kit: it serves better, provided that its score is shown to be no worse than
 *    the other's by more than the margin.
 * 4. None speaks, and the larger kit is shown to be no worse by more than a margin in score, in spread of reach
 *    at contact and in clearness of feedback: equal, so the larger serves.
 * 5. Else: not enough yet, with the number of swings that would settle it.
 * "No worse" is shown when the whole 95 % interval lies on the near side of the margin. In simulation 3 % of decisions
 * and less are wrong with 10, 20 or 40 swings.
 *
 * @param current the kit played now: what serves better is to stay with, or to scale down or step up to
 * Source: design.md section 9; Sci Rep 10, 2020, doi 10.1038/s41598-020-77627-5 and 10.1038/s41598-020-59475-5;
 *   no worse by a margin: non-inferiority, Schuirmann 1987, doi 10.1007/BF01068419 (from memory).
 * Checked: tests/measures/decision.test.ts; tests/measures/decision-operating.test.ts: how often it is right and wrong
 */
export function decide(comparison: Comparison, current: Kit): Decision {
  const speaking = Object.values(comparison.measures).filter(({ favours }) => favours !== null);
  const serves = servingKit(comparison, speaking);
  const other = current === 'larger' ? 'smaller' : 'larger';
  const saying = (kit: Kit) =>
    speaking.filter(({ favours }) => favours === kit).map(({ name }) => COMPARED[name].better);
  const equal = serves === 'larger' && speaking.length === 0 ? [WORDS.equalPart] : [];
  const lists = {
    speaksFor: [...saying(other), ...(other === 'larger' ? equal : [])],
    speaksAgainst: [...saying(current), ...(current === 'larger' ? equal : [])],
    open: serves === null ? openQuestions(comparison, speaking) : [],
  };
  const more = serves === null ? moreSwings(comparison) : null;
  const { n } = comparison;
  const decided = { n, minimumN: LIMITS.minimumN, serves, ...lists, moreSwings: more };
  return {
    ...decided,
    answer: answerOf(serves, current),
    words: wordsOf(decided, current, saying),
  };
}

function servingKit(
  { measures, accurateFrom, n }: Comparison,
  speaking: readonly ComparedMeasure[],
): Decision['serves'] {
  if (Math.min(n.smaller, n.larger) < LIMITS.minimumN) return null;
  const kits = new Set(speaking.map(({ favours }) => favours as Kit));
  if (kits.size === 2) return 'torn';
  const [favourite] = kits;
  const noWorse = (kit: Kit, guard: Guard) =>
    isNoWorse(measures[guard], kit, margin(guard, accurateFrom));
  if (favourite) return noWorse(favourite, 'score') ? favourite : null;
  return GUARDS.every((guard) => noWorse('larger', guard)) ? 'larger' : null;
}

function answerOf(serves: Decision['serves'], current: Kit): Decision['answer'] {
  if (serves === null) return 'not-enough';
  if (serves === 'torn' || serves === current) return 'stay';
  return serves === 'smaller' ? 'scale-down' : 'step-up';
}

/** What keeps a decision open: the guards that are not passed, and why. */
function openQuestions(
  { measures, accurateFrom, n }: Comparison,
  speaking: readonly ComparedMeasure[],
): string[] {
  const have = Math.min(n.smaller, n.larger);
  if (have < LIMITS.minimumN)
    return [
      `${unavailableWords({ reason: 'too-few', need: LIMITS.minimumN, have })} with each kit`,
    ];
  const kit = speaking[0]?.favours ?? 'larger';
  const guards = speaking.length > 0 ? (['score'] as const) : GUARDS;
  const open = guards
    .filter((guard) => !isNoWorse(measures[guard], kit, margin(guard, accurateFrom)))
    .map((guard) => openWords(guard, measures[guard]));
  return speaking.length > 0 ? open : [WORDS.noDifference, ...open];
}

function openWords(guard: Guard, { contrast }: ComparedMeasure): string {
  if (!isUnavailable(contrast)) return WORDS.open[guard];
  if (guard === 'score' && contrast.reason === 'no-spread') return WORDS.alike;
  if (guard === 'score' && contrast.reason === 'too-few') return WORDS.unscored;
  if (guard === 'feedback' && contrast.reason === 'too-few') return WORDS.rare;
  return `${WORDS.open[guard]} (${unavailableWords(contrast)})`;
}

function wordsOf(
  decided: Pick<Decision, 'n' | 'serves' | 'open' | 'moreSwings'>,
  current: Kit,
  saying: (kit: Kit) => readonly string[],
): string {
  const { n, serves, open, moreSwings: more } = decided;
  const sides = (['smaller', 'larger'] as const)
    .map((kit) => ({ kit, said: saying(kit) }))
    .filter(({ said }) => said.length > 0)
    .map(({ kit, said }) => `With the ${kit} kit ${said.join('; ')}.`);
  if (serves !== null) {
    const answer = answerOf(serves, current);
    const first =
      answer !== 'stay' ? answer : serves === 'torn' ? serves : (`stay-${serves}` as const);
    const because = sides.length > 0 ? sides : [WORDS.equal];
    return [WORDS.answers[first], ...because, WORDS.advice].join(' ');
  }
  const isSmall = Math.min(n.smaller, n.larger) < LIMITS.minimumN;
  const then = more === null ? WORDS.unsettled : moreWords(more, isSmall);
  return [WORDS.answers['not-enough'], ...sides, `Open: ${open.join('; ')}.`, then].join(' ');
}

function moreWords(more: number, isSmall: boolean): string {
  const swings = more === 1 ? '1 more swing' : `${more} more swings`;
  return isSmall
    ? `At least ${swings} with each kit ${more === 1 ? 'is' : 'are'} needed.`
    : `About ${swings} with each kit may settle it.`;
}
