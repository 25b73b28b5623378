import { moreSwingsWords, unavailableWords } from '../core/measures/thresholds.ts';
import { type Estimate, isUnavailable } from '../core/statistics/estimate.ts';
import { hitSentences } from './plain-hits.ts';
import { kitSentences } from './plain-kits.ts';
import { inCm, likely } from './plain-numbers.ts';
import {
  conditionOf,
  conditionWords,
  dayWords,
  type ReportedSet,
  swingsOf,
} from './reported-set.ts';
import { leftOutReasons } from './void-words.ts';

/** The page of a report that asks for no knowledge of the field. */
export interface PlainReport {
  readonly title: string;
  /** Who, when, with what. */
  readonly facts: readonly (readonly [name: string, value: string])[];
  readonly sections: readonly PlainSection[];
  readonly cautions: readonly string[];
}

export interface PlainSection {
  readonly id: 'hits' | 'reach' | 'narrowing' | 'arm' | 'next' | 'trust';
  readonly title: string;
  /** Whole sentences. */
  readonly words: readonly string[];
}

/**
 * A set in plain words for player, parent or colleague: what was hit, how steady reach was, whether it narrowed,
 * which part of the arm made the difference, what to try next, and how sure all of it is. Nothing is said beyond the
 * measures' own verdicts.
 * Checked: tests/reports/plain-report.test.ts
 */
export function plainReport(set: ReportedSet): PlainReport {
  const { player, handedness, source } = set.description;
  const swings = swingsOf(set);
  return {
    title: `${player}: what ${counted(set.measures.n, 'swing')} show`,
    facts: [
      ['Player (a made-up name)', `${player}, ${handedness}-handed`],
      ['When', dayWords(set.description)],
      ['With what', conditionWords(conditionOf(set))],
      ['Swings', `${swings.length} recorded, ${set.measures.n} of them count here`],
      ...(source === 'simulated'
        ? [['Who swung', 'a simulated player, for trying out: no person'] as const]
        : []),
    ],
    sections: [
      { id: 'hits', title: 'What was hit', words: hitSentences(set) },
      { id: 'reach', title: 'How steady was reach?', words: reachSentences(set) },
      { id: 'narrowing', title: 'Did it get steadier on the way?', words: narrowingSentences(set) },
      { id: 'arm', title: 'Which part of the arm made the difference?', words: armSentences(set) },
      { id: 'next', title: 'What to try next', words: nextSentences(set) },
      { id: 'trust', title: 'How sure is this?', words: trustSentences(set) },
    ],
    cautions: [
      'This supports the judgement of a coach and does not replace it. It is no medical finding.',
      'One set is one moment: the day, tiredness and warming up are in it.',
      'Safeguarding rules and the rules for equipment come before anything said here. Stop on pain, numbness or dizziness.',
    ],
  };
}

function reachSentences({ measures, view }: ReportedSet): string[] {
  const { meanM, spreadM } = measures.reach;
  const what =
    'Reach is how far the middle of the hitting area is from the shoulder when the ball is met. Good players keep it nearly the same from ball to ball.';
  if (isUnavailable(meanM)) return [what, `Here it is not known: ${unavailableWords(meanM)}.`];
  const mean = `Here it was ${inCm(meanM.value)} cm on average`;
  if (isUnavailable(spreadM))
    return [what, `${mean}. How much it differs is not known: ${unavailableWords(spreadM)}.`];
  return [
    what,
    `${mean}. Its spread, how far a ball typically is off that, was ${inCm(spreadM.value)} cm (${likely(spreadM, inCm)} cm).`,
    floorSentence(spreadM, view.funnel.floorM.at(-1)!),
    ...bestReach(measures.sweetSpot.place?.bestM ?? null),
  ];
}

function floorSentence({ value }: Estimate, floorM: number): string {
  if (!Number.isFinite(floorM)) return 'How much of this comes from the sensors is not known.';
  return value > floorM
    ? `The sensors alone would show a spread of about ${inCm(floorM)} cm.`
    : 'That is no more than the sensors alone would show, so nothing can be said about how steady the player is.';
}

function bestReach(bestM: Estimate | null): string[] {
  return bestM === null
    ? []
    : [`Balls scored best with a reach of ${inCm(bestM.value)} cm (${likely(bestM, inCm)} cm).`];
}

function narrowingSentences({ measures: { funnel } }: ReportedSet): string[] {
  return [
    'A player who steers the swing while it goes on has reach differ less and less toward the ball. Drawn, that looks like a funnel: wide first, narrow at contact, when the ball is met.',
    funnel.verdict.words,
  ];
}

function armSentences({ measures: { arm, n, angleN } }: ReportedSet): string[] {
  const { share, elbow, coupling } = arm.verdicts;
  const known = [share, elbow, coupling].filter(({ answer }) => answer !== 'unknown');
  return [
    ...(known.length === 0 ? [share] : known).map(({ words }) => words),
    ...(angleN < n
      ? [`${n - angleN} of ${n} swings are left out here: it is not known where their target was.`]
      : []),
  ];
}

function nextSentences(set: ReportedSet): string[] {
  const { kits, conditions, measures } = set;
  if (kits !== null) return kitSentences(kits);
  const more = measures.funnel.verdict.moreSwings;
  const swings =
    more === null ? [] : [`For how reach narrows: ${lowerFirst(moreSwingsWords(more))}`];
  return conditions.length === 1
    ? [
        'All balls were played with one kit, so it is not known whether another suits this player better. A set with two kits in turn, a shorter or lighter one and this one, would tell.',
        ...swings,
      ]
    : [
        `This set has ${conditions.length} kinds of kit, ball or feed; this page is about one of them. “Side by side” in the program compares any two.`,
        ...swings,
      ];
}

function trustSentences(set: ReportedSet): string[] {
  const { description, measures } = set;
  const reasons = leftOutReasons(swingsOf(set));
  const { reach, speed, score } = measures.order;
  return [
    '“Very likely” gives a range that holds the true value about 95 times in 100. “Not shown” does not mean “not so”: these swings do not tell.',
    'Differences from swing to swing are measured well. Reach itself may be off by about 1 cm, all swings alike, so it is not compared from day to day.',
    ...(description.armEstimatedFromStatureM === undefined
      ? []
      : [
          'The arm was not measured but estimated from body height, so reach itself may be off by some centimetres.',
        ]),
    ...(reasons.length === 0 ? [] : [`Swings that do not count: ${reasons.join('; ')}.`]),
    ...[reach, speed, score]
      .filter(({ verdict }) => verdict.answer === 'rises' || verdict.answer === 'falls')
      .map(({ verdict }) => verdict.words),
  ];
}

function counted(n: number, what: string): string {
  return n === 1 ? `1 ${what}` : `${n} ${what}s`;
}

function lowerFirst(words: string): string {
  return words.charAt(0).toLowerCase() + words.slice(1);
}
