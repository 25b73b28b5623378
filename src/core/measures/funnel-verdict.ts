import type { GuardAnswer, GuardName } from './funnel-guards.ts';
import { MEASURES, moreSwingsWords, unavailableWords } from './thresholds.ts';

const { limits: LIMITS, words: WORDS } = MEASURES.funnel;

/** Does reach narrow toward contact? */
export interface FunnelVerdict {
  readonly n: number;
  readonly minimumN: number;
  /** Only when every guard agrees. */
  readonly isShown: boolean;
  /** Guards that do not agree; empty below the minimum n. */
  readonly failing: readonly GuardName[];
  /** Swings that might settle it; null when more swings are not known to help. */
  readonly moreSwings: number | null;
  /** Whole sentences for a coach. */
  readonly words: string;
}

/** Verdict on a set too small for any. */
export function tooFewSwings(n: number): FunnelVerdict {
  const more = LIMITS.minimumN - n;
  const why = unavailableWords({ reason: 'too-few', have: n, need: LIMITS.minimumN });
  return {
    ...verdict(n, [], more),
    words: `${WORDS.notYet} ${why}. ${moreSwingsWords(more)}`,
  };
}

/** Verdict on a set whose reach cannot be used. */
export function unusable(n: number, why: Parameters<typeof unavailableWords>[0]): FunnelVerdict {
  return { ...verdict(n, [], null), words: `${WORDS.notShown} ${unavailableWords(why)}.` };
}

/**
 * The verdict needs all guards to agree, and says which fail. One that contradicts cannot be outvoted by more
 * swings, so none are asked for then.
 * Source: design.md section 9.  Checked: tests/measures/funnel-verdict.test.ts
 */
export function judgeFunnel(n: number, guards: Record<GuardName, GuardAnswer>): FunnelVerdict {
  const failing = STAGES.flat().filter((name) => guards[name].answer !== 'agrees');
  if (failing.length === 0)
    return { ...verdict(n, failing, null), isShown: true, words: WORDS.shown };
  const narrows = failing.every((name) => EXPLANATIONS.includes(name));
  const those = (answer: GuardAnswer['answer']) =>
    failing.filter((name) => guards[name].answer === answer);
  for (const firm of [those('contradicts'), those('unknown')])
    if (firm.length > 0) {
      const said = narrows ? WORDS.notSteered : WORDS.notShown;
      return { ...verdict(n, failing, null), words: `${said} ${reasons(firm, guards)}.` };
    }
  const more = mostAsked(failing.map((name) => guards[name]));
  const said = narrows ? WORDS.notSteeredYet : WORDS.notYet;
  const sentence = `${said} ${reasons(failing, guards)}.`;
  return {
    ...verdict(n, failing, more),
    words: more === null ? sentence : `${sentence} ${moreSwingsWords(more)}`,
  };
}

/** What narrowing may come of without any steering. */
const EXPLANATIONS: readonly GuardName[] = ['carryOver', 'timing', 'geometry'];

/** Can it be measured; does it narrow; does anything but steering explain it. */
const STAGES: readonly (readonly GuardName[])[] = [
  ['floor'],
  ['narrowing', 'midToContact', 'milliseconds'],
  EXPLANATIONS,
];

/** What the guards of the first stage that fails have to say: later ones explain what is not there. */
function reasons(names: readonly GuardName[], guards: Record<GuardName, GuardAnswer>): string {
  const stage = STAGES.find((stage) => stage.some((name) => names.includes(name))) ?? [];
  const words = stage.filter((n) => names.includes(n)).map((n) => guardWords(n, guards[n]));
  return [...new Set(words)].join('; ');
}

function verdict(n: number, failing: readonly GuardName[], moreSwings: number | null) {
  return { n, minimumN: LIMITS.minimumN, isShown: false, failing, moreSwings };
}

function guardWords(name: GuardName, guard: GuardAnswer): string {
  switch (guard.answer) {
    case 'unknown':
      return unavailableWords(guard.why);
    case 'undecided':
      return WORDS.guards[name].undecided;
    default:
      return WORDS.guards[name].contradicts;
  }
}

/** The largest number asked for; null when one guard asks for too many. */
function mostAsked(guards: readonly GuardAnswer[]): number | null {
  let most = 0;
  for (const guard of guards) {
    if (guard.answer !== 'undecided' || guard.moreSwings === null) return null;
    most = Math.max(most, guard.moreSwings);
  }
  return most;
}
