import { type Estimate, isUnavailable, type Unavailable } from '../statistics/estimate.ts';
import { smallestDetectableChange, splitHalfReliability } from '../statistics/measurement-error.ts';
import { sdInterval } from '../statistics/sd-interval.ts';
import { TREND } from './comparison-words.ts';

/** A measure of one session from all its swings, and from its odd and even ones apart. */
export interface HalvedValue {
  readonly whole: number;
  readonly odd: number;
  readonly even: number;
}

/** How far a measure of a session can be trusted. */
export interface Detectability {
  /** Sessions. */
  readonly n: number;
  /** Split-half, raised to full length (Spearman-Brown): share of the variance that is between sessions. */
  readonly reliability: Estimate | Unavailable;
  /** Standard error of measurement of one session, in the unit of the measure, with interval. */
  readonly sem: Estimate;
  /** SDC95 = 1.96 sqrt(2) SEM: what two sessions must differ by to differ by more than their swings do by chance. */
  readonly change: number;
}

/**
 * Split-half reliability, standard error of measurement and smallest detectable change of a session's measure.
 *   SEM = SD(odd - even)/2
 * which is SD sqrt(1 - reliability) where both halves spread alike, and is known better from few sessions, since
 * it does not depend on how much the sessions differ. It counts only what swings of one session do by chance:
 * sensors fitted anew, another tape measure or another day come on top, so the true smallest change is larger.
 * @param sessions at least six, of one player under one condition and about equally long
 * @returns 'no-spread' when the halves always agree
 * Source: Rulon 1939, Harv Educ Rev 9:99 (from memory); SDC: Weir 2005, see smallestDetectableChange.
 * Checked: tests/measures/smallest-detectable-change.test.ts
 */
export function detectability(sessions: readonly HalvedValue[]): Detectability | Unavailable {
  const n = sessions.length;
  const need = TREND.limits.minimumSessions;
  if (n < need) return { reason: 'too-few', need, have: n };
  const spread = sdInterval(sessions.map(({ odd, even }) => odd - even));
  if (isUnavailable(spread)) return spread;
  const sem = {
    ...spread,
    value: spread.value / 2,
    low: spread.low / 2,
    high: spread.high / 2,
  };
  return {
    n,
    reliability: splitHalfReliability(
      sessions.map(({ odd }) => odd),
      sessions.map(({ even }) => even),
    ),
    sem,
    change: smallestDetectableChange(sem.value),
  };
}
