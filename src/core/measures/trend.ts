import { commonSlope } from '../statistics/common-slope.ts';
import { tQuantile } from '../statistics/distributions.ts';
import { type Estimate, isUnavailable, type Unavailable } from '../statistics/estimate.ts';
import { holmAdjusted } from '../statistics/holm.ts';
import { mean, standardDeviation } from '../statistics/moments.ts';
import type { PermutationOptions } from '../statistics/permutation-test.ts';
import { rowsByGroup } from '../statistics/resampling.ts';
import { reachFault } from './comparison-reach.ts';
import { TREND } from './comparison-words.ts';
import { contactToWidest, reachDeviations, trueRatio } from './contact-to-widest.ts';
import type { MeasuredSwing } from './measured-swing.ts';
import { contactReach } from './reach-at-contact.ts';
import { reachInPercent } from './reach-table.ts';
import {
  type Detectability,
  detectability,
  type HalvedValue,
} from './smallest-detectable-change.ts';
import { unavailableWords } from './thresholds.ts';

/** What a player did on one day under one condition. */
export interface Session {
  /** Days from any beginning, growing. */
  readonly day: number;
  /** In order; null: void or discarded. */
  readonly swings: readonly (MeasuredSwing | null)[];
}

export type TrendSubject = keyof typeof TREND.words.subjects;

/** One measure over the weeks. */
export interface MeasureTrend {
  /** One per session, or why it has none. */
  readonly values: readonly (number | Unavailable)[];
  /** Sessions with a value. */
  readonly n: number;
  readonly detectability: Detectability | Unavailable;
  /** Change from week to week; p by permutation, and after Holm over the measures. */
  readonly perWeek: Estimate | Unavailable;
  readonly p: number | Unavailable;
  readonly pHolm: number | Unavailable;
  /** Last session with a value less the one before, and whether their swings alone would differ as much. */
  readonly lastChange: LastChange | Unavailable;
  readonly answer: 'rises' | 'falls' | 'none' | 'unknown';
  /** A whole sentence. */
  readonly words: string;
}

export interface LastChange {
  readonly value: number;
  readonly beyondChance: boolean;
}

const { limits: LIMITS, words: WORDS } = TREND;
const DAYS_PER_WEEK = 7;

type Swings = readonly MeasuredSwing[];

const SUMMARIES: Readonly<Record<TrendSubject, (swings: Swings) => number | Unavailable>> = {
  meanReach: (swings) => faultOf(swings) ?? mean(contactReach(swings)),
  spread: (swings) => faultOf(swings) ?? standardDeviation(contactReach(swings)),
  narrowing: (swings) => faultOf(swings) ?? narrowingOf(swings),
  score: (swings) => mean(swings.flatMap(({ points }) => (points === null ? [] : [points]))),
};

/**
 * A player's history under one condition: one value per session for mean reach and spread of reach at contact
 * (metres), narrowing ratio and mean score (points), their slope over the weeks, and how much two sessions must
 * differ to differ by more than chance. The last session is held against the one before with Student's t in place of
 * 1.96, since the error itself is known from few sessions only. Sensors fitted anew shift mean reach by up to a
 * centimetre (design.md section 13), which no measure here sees.
 * @param sessions in order of their days, at least six with at least ten swings
 * Source: design.md section 9; Weir 2005, see detectability; Holm 1979.
 * Checked: tests/measures/trend.test.ts, coverage and false alarms too
 */
export function trend(
  sessions: readonly Session[],
  options: PermutationOptions,
): Readonly<Record<TrendSubject, MeasureTrend>> {
  const subjects = Object.keys(SUMMARIES) as TrendSubject[];
  const halved = subjects.map((subject) =>
    sessions.map((session) => halvedValue(subject, session)),
  );
  const slopes = halved.map((values) => slopeOver(sessions, values, options));
  const adjusted = holmAdjusted(slopes.map((slope) => (isUnavailable(slope) ? slope : slope.p)));
  return Object.fromEntries(
    subjects.map((subject, i) => {
      const known = halved[i]!.filter((value) => !isUnavailable(value)) as HalvedValue[];
      const error = detectability(known);
      const slope = slopes[i]!;
      const change = lastChange(known, error);
      const perWeek = isUnavailable(slope) ? slope : slope.slope;
      const answer = judge(perWeek, adjusted[i]!);
      const found: MeasureTrend = {
        values: halved[i]!.map((value) => (isUnavailable(value) ? value : value.whole)),
        n: known.length,
        detectability: error,
        perWeek,
        p: isUnavailable(slope) ? slope : slope.p,
        pHolm: adjusted[i]!,
        lastChange: change,
        answer,
        words: wordsOf(subject, answer, perWeek, change),
      };
      return [subject, found];
    }),
  ) as Record<TrendSubject, MeasureTrend>;
}

function halvedValue(subject: TrendSubject, { swings }: Session): HalvedValue | Unavailable {
  const used = swings.filter(
    (swing): swing is MeasuredSwing =>
      swing !== null && (subject !== 'score' || swing.points !== null),
  );
  const need = LIMITS.sessionMinimumN;
  if (used.length < need) return { reason: 'too-few', need, have: used.length };
  const summary = SUMMARIES[subject];
  const whole = summary(used);
  const odd = summary(used.filter((_, i) => i % 2 === 0));
  const even = summary(used.filter((_, i) => i % 2 === 1));
  if (isUnavailable(whole)) return whole;
  if (isUnavailable(odd)) return odd;
  return isUnavailable(even) ? even : { whole, odd, even };
}

function slopeOver(
  sessions: readonly Session[],
  values: readonly (HalvedValue | Unavailable)[],
  options: PermutationOptions,
) {
  const rows = values.flatMap((value, i) =>
    isUnavailable(value) ? [] : [{ week: sessions[i]!.day / DAYS_PER_WEEK, value: value.whole }],
  );
  return commonSlope(
    rows.map(({ week }) => week),
    rows.map(({ value }) => value),
    rows.map(() => ''),
    options,
  );
}

function lastChange(
  known: readonly HalvedValue[],
  error: Detectability | Unavailable,
): LastChange | Unavailable {
  if (isUnavailable(error)) return error;
  const value = known.at(-1)!.whole - known.at(-2)!.whole;
  const { level, value: sem } = error.sem;
  const least = tQuantile((1 + level) / 2, error.n - 1) * Math.SQRT2 * sem;
  return { value, beyondChance: Math.abs(value) > least };
}

function judge(
  perWeek: Estimate | Unavailable,
  pHolm: number | Unavailable,
): MeasureTrend['answer'] {
  if (isUnavailable(perWeek) || isUnavailable(pHolm)) return 'unknown';
  if (pHolm > LIMITS.alpha) return 'none';
  return perWeek.value > 0 ? 'rises' : 'falls';
}

function wordsOf(
  subject: TrendSubject,
  answer: MeasureTrend['answer'],
  perWeek: Estimate | Unavailable,
  change: LastChange | Unavailable,
): string {
  const name = WORDS.subjects[subject];
  const first =
    answer === 'unknown' && isUnavailable(perWeek)
      ? `${name}: ${WORDS.question} ${reasonWords(perWeek)}`
      : `${name} ${WORDS[answer as 'rises' | 'falls' | 'none']}`;
  if (isUnavailable(change)) return `${first}.`;
  return `${first}; ${change.beyondChance ? WORDS.lastChanged : WORDS.lastAlike}.`;
}

/** Rows are sessions here. */
function reasonWords(why: Unavailable): string {
  if (why.reason === 'too-few')
    return `${why.have} of at least ${LIMITS.minimumSessions} sessions with ${LIMITS.sessionMinimumN} swings or more`;
  if (why.reason === 'no-spread') return 'all sessions are alike';
  return unavailableWords(why);
}

function narrowingOf(swings: Swings): number | Unavailable {
  const everyone = rowsByGroup([swings.length])[0]!;
  return trueRatio(contactToWidest(reachDeviations(reachInPercent(swings)), everyone));
}

function faultOf(swings: Swings): Unavailable | null {
  return reachFault({ smaller: swings, larger: [] });
}
