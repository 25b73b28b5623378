import type { Comparison } from '../core/measures/comparison.ts';
import type { ComparedName, Kit } from '../core/measures/comparison-measure.ts';
import { COMPARED } from '../core/measures/comparison-words.ts';
import type { Decision } from '../core/measures/decision.ts';
import { isUnavailable } from '../core/statistics/estimate.ts';
import { changedTogether, kitWords, shortNames, type TwoKits } from './kit-words.ts';

/** Two kits of one player held against each other. */
export interface ComparedKits {
  readonly kits: TwoKits;
  readonly comparison: Comparison;
  readonly decision: Decision;
  /** Days and sets that the swings come from. */
  readonly days: number;
  readonly sets: number;
}

/** A decision as Side by side and the report say it, in whole sentences but for `head`. */
export interface KitAdvice {
  /** In a word or three. */
  readonly head: string;
  /** Which kit; null when that cannot be said. */
  readonly kit: string | null;
  readonly sentence: string;
  /** What is better with which kit, apart for score and movement. */
  readonly score: string;
  readonly movement: string;
  /** How much there is for and against, from how many swings. */
  readonly howSure: string;
  /** That implement and ball changed together, where there is a difference that either may have made. */
  readonly together: string | null;
}

/** The score is what the movement is for; speed is neither. */
const OUTCOMES = ['score', 'hitRate'] as const satisfies readonly ComparedName[];
const KITS = ['smaller', 'larger'] as const;
type Names = Readonly<Record<Kit, string>>;

/**
 * What a decision means for a coach: the kit by its name, score and movement apart, and how much speaks for it.
 * Nothing is said that the decision and the comparison do not say.
 * Checked: tests/reports/kit-advice.test.ts
 */
export function kitAdvice(compared: ComparedKits): KitAdvice {
  const names = shortNames(compared.kits) ?? { smaller: 'smaller kit', larger: 'larger kit' };
  return {
    ...headOf(compared, names),
    score: scoreLine(compared, names),
    movement: movementLine(compared, names),
    howSure: howSure(compared, names),
    together: isAnyShown(compared.comparison) ? changedTogether(compared.kits) : null,
  };
}

/** The measures that speak for a kit, each as a difference between the two. */
export function signsFor({ measures }: Comparison, kit: Kit): string[] {
  return Object.values(measures).flatMap(({ name, favours }) =>
    favours === kit ? [COMPARED[name].better] : [],
  );
}

function headOf(
  { decision, kits, comparison }: ComparedKits,
  names: Names,
): Pick<KitAdvice, 'head' | 'kit' | 'sentence'> {
  const { answer, serves } = decision;
  if (serves === null || answer === 'not-enough')
    return { head: 'Not enough yet', kit: null, sentence: moreWords(decision) };
  if (serves === 'torn')
    return {
      head: 'Stay',
      kit: 'Stay for now with the kit that is played.',
      sentence:
        'The measures speak against each other, some for one kit and some for the other. That is for the coach to weigh; until then nothing changes.',
    };
  const { head, to } = HEADS[answer];
  return {
    head,
    kit: `${to}: ${kitWords(kits[serves])}.`,
    sentence: `${shortNames(kits) === null ? `The ${serves} kit` : `${names[serves]}, the ${serves} kit,`} ${servesHow(comparison, serves)}`,
  };
}

const HEADS = {
  'scale-down': { head: 'Scale down', to: 'Go down to' },
  'step-up': { head: 'Step up', to: 'Go up to' },
  stay: { head: 'Stay', to: 'Stay with' },
} as const;

/** Better is said only of what is shown to be better. */
function servesHow({ measures }: Comparison, kit: Kit): string {
  if (OUTCOMES.some((name) => measures[name].favours === kit)) return 'serves this player better.';
  return Object.values(measures).some(({ favours }) => favours === kit)
    ? 'serves this player as well in score, and the movement is better with it.'
    : 'serves this player as well; the smaller one is not needed.';
}

function moreWords({ n, minimumN, moreSwings: more }: Decision): string {
  const open = 'Which kit serves this player better cannot be said yet';
  if (more === null) return `${open}, and more swings like these are not known to settle it.`;
  const swings = more === 1 ? '1 more swing' : `${more} more swings`;
  return Math.min(n.smaller, n.larger) < minimumN
    ? `${open}: at least ${swings} with each ${more === 1 ? 'is' : 'are'} needed.`
    : `${open}: about ${swings} with each may settle it.`;
}

function scoreLine({ comparison, decision }: ComparedKits, names: Names): string {
  const { score, hitRate } = comparison.measures;
  const shown = [score, hitRate].filter(({ favours }) => favours !== null);
  const kits = [...new Set(shown.map(({ favours }) => favours as Kit))];
  if (kits.length === 2)
    return `A ball scores more with ${names[score.favours!]}, more balls get full points with ${names[hitRate.favours!]}.`;
  if (isUnavailable(score.smaller) || isUnavailable(score.larger))
    return 'Not known: too few balls are scored with each kit.';
  const [kit = 'smaller'] = kits;
  const other = kit === 'smaller' ? 'larger' : 'smaller';
  const points = `${(score[kit] as number).toFixed(1)} points a ball against ${(score[other] as number).toFixed(1)}`;
  if (kits.length > 0) return `Better with ${names[kit]} (${points}).`;
  const { n, minimumN } = decision;
  const isFew = Math.min(n.smaller, n.larger) < minimumN;
  return `${isFew ? 'Too few swings to tell' : 'No difference is shown'} (${points} with ${names[other]}).`;
}

function movementLine({ comparison: { measures } }: ComparedKits, names: Names): string {
  const movement = Object.values(measures).filter(
    ({ name }) => !isOutcome(name) && COMPARED[name].favourable !== 'neither',
  );
  const known = movement.filter(({ p }) => !isUnavailable(p)).length;
  if (known === 0) return 'Not known: too few swings with each kit.';
  const counts = KITS.map((kit) => ({
    kit,
    signs: movement.filter(({ favours }) => favours === kit).length,
  })).filter(({ signs }) => signs > 0);
  const [one, two] = counts;
  if (one === undefined) return `No difference is shown in ${known} ${signWord(known)}.`;
  if (two === undefined) {
    const others = known - one.signs;
    const rest =
      others === 0
        ? ''
        : `; in the ${others === 1 ? 'other' : `other ${others}`} no difference is shown`;
    return `Better with ${names[one.kit]} in ${one.signs} of ${known} ${signWord(known)}${rest}.`;
  }
  return `Some signs for each: ${one.signs} for ${names[one.kit]}, ${two.signs} for ${names[two.kit]}.`;
}

function howSure({ comparison, decision, days }: ComparedKits, names: Names): string {
  const able = Object.values(comparison.measures).filter(
    ({ name, p }) => COMPARED[name].favourable !== 'neither' && !isUnavailable(p),
  );
  const first = decision.serves === 'larger' ? 'larger' : 'smaller';
  const second = first === 'larger' ? 'smaller' : 'larger';
  const count = (kit: Kit): string =>
    String(able.filter(({ favours }) => favours === kit).length || 'none');
  const signs =
    able.length === 0
      ? 'No sign can be compared yet'
      : `Of ${able.length} ${signWord(able.length)} compared, for ${names[first]}: ${count(first)}; for ${names[second]}: ${count(second)}`;
  return `${signs}. ${swingsWords(comparison.n, names)}, on ${days === 1 ? '1 day' : `${days} days`}.`;
}

/** "32 swings with each", or how many with which. */
function swingsWords(n: Comparison['n'], names: Names): string {
  const swings = (count: number): string => (count === 1 ? '1 swing' : `${count} swings`);
  return n.smaller === n.larger
    ? `${swings(n.smaller)} with each`
    : `${swings(n.smaller)} with ${names.smaller} and ${swings(n.larger)} with ${names.larger}`;
}

function isAnyShown({ measures }: Comparison): boolean {
  return Object.values(measures).some(({ favours }) => favours !== null);
}

function isOutcome(name: ComparedName): boolean {
  return (OUTCOMES as readonly string[]).includes(name);
}

function signWord(count: number): string {
  return count === 1 ? 'sign' : 'signs';
}
