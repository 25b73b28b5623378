import { TREND } from '../../core/measures/comparison-words.ts';
import { unavailableWords } from '../../core/measures/thresholds.ts';
import type { MeasureTrend, TrendSubject } from '../../core/measures/trend.ts';
import { type Estimate, isUnavailable, type Unavailable } from '../../core/statistics/estimate.ts';

/** How a measure of the weeks is called and shown. */
export interface SubjectLook {
  readonly title: string;
  readonly axis: string;
  readonly unit: string;
  /** From the unit of the measure. */
  readonly scale: number;
  readonly digits: number;
  readonly rises: string;
  readonly falls: string;
}

/** In the order in which they are read. */
export const SUBJECTS: Readonly<Record<TrendSubject, SubjectLook>> = {
  score: {
    title: 'Score: do the balls score more?',
    axis: 'Mean score, points',
    unit: 'points',
    scale: 1,
    digits: 1,
    rises: 'Balls score more over the weeks',
    falls: 'Balls score less over the weeks',
  },
  spread: {
    title: 'Steadiness: does reach at contact differ less?',
    axis: 'Spread of reach at contact, cm',
    unit: 'cm',
    scale: 100,
    digits: 1,
    rises: 'Reach at contact gets less steady over the weeks',
    falls: 'Reach at contact gets steadier over the weeks',
  },
  narrowing: {
    title: 'Funnel: does reach narrow more toward contact?',
    axis: 'Spread left at contact, % of the widest',
    unit: '%',
    scale: 100,
    digits: 0,
    rises: 'Reach narrows less toward contact over the weeks',
    falls: 'Reach narrows more toward contact over the weeks',
  },
  meanReach: {
    title: 'Reach: does it grow or shrink?',
    axis: 'Mean reach at contact, cm',
    unit: 'cm',
    scale: 100,
    digits: 1,
    rises: 'Reach at contact grows over the weeks',
    falls: 'Reach at contact shrinks over the weeks',
  },
};

const { minimumSessions, sessionMinimumN } = TREND.limits;

/** The sentence of a measure: a change is claimed only where the trend over all days shows one. Checked: tests/screens/progress-words.test.ts */
export function trendWords(subject: TrendSubject, found: MeasureTrend): string {
  const { answer, perWeek } = found;
  const { rises, falls } = SUBJECTS[subject];
  if (isUnavailable(perWeek)) return unknownWords(subject, found.n, perWeek);
  if (answer === 'unknown') return 'Not known whether it changes over the weeks.';
  if (answer === 'none')
    return 'No steady rise or fall over the weeks is shown: what there is could come from how days differ anyway.';
  return `${answer === 'rises' ? rises : falls}, by more than days differ by anyway: ${weekWords(subject, perWeek)}.`;
}

/** Slope and p of a measure as a sentence for those who ask; empty where there is none. */
export function slopeNumbers(subject: TrendSubject, { perWeek, p, pHolm }: MeasureTrend): string {
  if (isUnavailable(perWeek) || isUnavailable(p) || isUnavailable(pHolm)) return '';
  return `Over all days: ${weekWords(subject, perWeek)}, p ${p.toFixed(3)}, corrected ${pHolm.toFixed(3)}.`;
}

function weekWords(subject: TrendSubject, { value, low, high }: Estimate): string {
  const { unit, scale, digits } = SUBJECTS[subject];
  const print = (x: number) => signed(scale * x, digits + 1);
  return `${print(value)} ${unit} a week (95 % interval ${print(low)} to ${print(high)})`;
}

/** No minus before a nothing, else a true minus sign. */
function signed(value: number, digits: number): string {
  const text = value.toFixed(digits);
  return Number(text) === 0 ? text.replace('-', '') : text.replace('-', '−');
}

function unknownWords(subject: TrendSubject, n: number, why: Unavailable): string {
  if (why.reason !== 'too-few')
    return `Not known whether it changes over the weeks: ${why.reason === 'no-spread' ? 'all days are alike' : unavailableWords(why)}.`;
  const lacking = Math.max(1, minimumSessions - n);
  const swings = subject === 'score' ? 'scored swings' : 'swings';
  return `Too few days yet: ${n} of at least ${minimumSessions} with ${sessionMinimumN} ${swings} or more. ${lacking} more ${lacking === 1 ? 'day is' : 'days are'} needed.`;
}

/**
 * What can be said of the last two days alone; null: nothing, or too few days. Of mean reach nothing, since fitting the
 * sensors anew shifts it.
 */
export function lastDayWords(subject: TrendSubject, { lastChange }: MeasureTrend): string | null {
  if (subject === 'meanReach')
    return 'Not compared from day to day to the centimetre: fitting the sensors anew shifts it by up to about 1 cm.';
  if (isUnavailable(lastChange)) return null;
  return lastChange.beyondChance
    ? 'The last day differs from the one before by more than chance between swings. Whether it lasts, only more days tell.'
    : 'The last day differs from the one before no more than swings do by chance.';
}
