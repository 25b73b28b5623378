import { type Estimate, isUnavailable } from '../statistics/estimate.ts';
import type { CarryOver } from './carry-over.ts';
import type { GuardAnswer } from './funnel-guards.ts';
import type { SweetSpotPlace } from './sweet-spot.ts';
import { MEASURES, unavailableWords } from './thresholds.ts';

/**
 * Sentences for pictures of what has no verdict of its own, for a coach: no more than the numbers show.
 * Checked: tests/measures/picture-words.test.ts
 */

/** What becomes of an early deviation. */
export function carryOverWords(
  guard: GuardAnswer,
  { fromMid }: Pick<CarryOver, 'fromMid'>,
): string {
  if (guard.answer === 'unknown')
    return `Not known whether what is off at mid-swing is still off at contact: ${unavailableWords(guard.why)}.`;
  const { carryOver } = MEASURES.funnel.words.guards;
  const words =
    guard.answer === 'agrees'
      ? 'what is off at mid-swing is not simply still off at contact'
      : carryOver[guard.answer];
  const sentence = `${words[0]!.toUpperCase()}${words.slice(1)}`;
  return isUnavailable(fromMid)
    ? `${sentence}.`
    : `${sentence}: the two go together by ${inText(fromMid, 1, 2)}, where 1 is wholly and 0 not at all.`;
}

/** Where the best score is expected. */
export function sweetPlaceWords({ bestM, fromM, toM }: SweetSpotPlace): string {
  const best = `The best score is expected at a reach of ${inText(bestM, 100, 1)} cm`;
  const cm = (metres: number) => (100 * metres).toFixed(1);
  if (fromM !== null && toM !== null)
    return `${best}, and within one point of it from ${cm(fromM)} to ${cm(toM)} cm.`;
  if (fromM !== null)
    return `${best}, and within one point of it from ${cm(fromM)} cm on, as far as was hit.`;
  if (toM !== null)
    return `${best}, and within one point of it up to ${cm(toM)} cm, from the shortest hit.`;
  return `${best}; the score stays within one point of it over all reaches hit.`;
}

/** What became of the swings of a set. */
export interface SwingCounts {
  readonly all: number;
  readonly counted: number;
  readonly leftOut: number;
  /** No reach, for whatever reason, and not left out by the coach. */
  readonly void: number;
}

/** How many swings the measures rest on. @param lostShare of the packets, 0 to 1; NaN when none came */
export function qualityWords(
  { all, counted, leftOut, void: voided }: SwingCounts,
  lostShare: number,
): string {
  if (all === 0) return 'No swing was found.';
  const without = [
    ...(voided > 0 ? [`${voided} without a reach`] : []),
    ...(leftOut > 0 ? [`${leftOut} left out by the coach`] : []),
  ];
  const count = `${counted} of ${all} swings count${without.length > 0 ? `, ${without.join(', ')}` : ''}`;
  if (!Number.isFinite(lostShare)) return `${count}.`;
  return lostShare === 0
    ? `${count}; no data were lost on the way.`
    : `${count}; ${(100 * lostShare).toFixed(2)} % of the data were lost on the way.`;
}

/** Value with the ends of its 95 % interval. @param scale to the unit of the sentence */
function inText({ value, low, high }: Estimate, scale: number, digits: number): string {
  const print = (x: number): string =>
    (Math.round(scale * x * 10 ** digits) / 10 ** digits + 0).toFixed(digits).replace('-', '−');
  return `${print(value)} (${print(low)} to ${print(high)})`;
}
