import { commonSlope } from '../statistics/common-slope.ts';
import { type Estimate, isUnavailable, type Unavailable } from '../statistics/estimate.ts';
import { holmAdjusted } from '../statistics/holm.ts';
import type { PermutationOptions } from '../statistics/permutation-test.ts';
import { ORDER_EFFECTS } from './comparison-words.ts';
import type { MeasuredSwing } from './measured-swing.ts';
import { unknownVerdict, type Verdict, verdictOf } from './verdict.ts';

/** One swing of a set, in the order hit; null when void or discarded, which keeps its place. */
export interface OrderedSwing {
  readonly swing: MeasuredSwing | null;
  /** Any name; swings of one condition share a level. */
  readonly condition: string;
}

/** Does a quantity drift as a set goes on? */
export interface Drift {
  readonly n: number;
  /** Change from one place to the next. */
  readonly perSwing: Estimate | Unavailable;
  /** Change from the first place of the set to the last. */
  readonly overSet: Estimate | Unavailable;
  /** By permutation within conditions, and after Holm over the three. */
  readonly p: number | Unavailable;
  readonly pHolm: number | Unavailable;
  readonly verdict: Verdict<'rises' | 'falls' | 'none'>;
}

const { limits: LIMITS, words: WORDS } = ORDER_EFFECTS;
const SUBJECTS = ['reach', 'speed', 'score'] as const;
export type DriftSubject = (typeof SUBJECTS)[number];

/** The drift of each quantity over a set. */
export type OrderEffects = Readonly<Record<DriftSubject, Drift>>;

const VALUE: Readonly<Record<DriftSubject, (swing: MeasuredSwing) => number | null>> = {
  reach: ({ reachCurveM }) => reachCurveM.at(-1)!,
  speed: ({ contactSpeedMS }) => contactSpeedMS,
  score: ({ points }) => points,
};

/**
 * Order effects in a set (warm-up, fatigue): slope of reach at contact (metres), speed at contact (m/s) and score
 * (points) against the place in the set. Each condition has a level of its own, so that blocks of different kit are
 * not taken for a drift. Swings are taken as independent otherwise: a player who wanders slowly drifts more often by
 * chance than the p value says. A rise that stops soon, as a warm-up may, is seen less well than a steady one.
 * @param swings in order, at least ten with a value
 * Source: design.md section 9; analysis of covariance, see commonSlope; Holm 1979.
 * Checked: tests/measures/order-effects.test.ts, coverage and false alarms too
 */
export function orderEffects(
  swings: readonly OrderedSwing[],
  options: PermutationOptions,
): OrderEffects {
  const found = SUBJECTS.map((subject) => slopeOf(subject, swings, options));
  const adjusted = holmAdjusted(found.map(({ p }) => p));
  return Object.fromEntries(
    SUBJECTS.map((subject, i) => {
      const pHolm = adjusted[i]!;
      return [subject, { ...found[i]!, pHolm, verdict: judge(subject, found[i]!, pHolm) }];
    }),
  ) as OrderEffects;
}

type Slope = Omit<Drift, 'pHolm' | 'verdict'>;

function slopeOf(
  subject: DriftSubject,
  swings: readonly OrderedSwing[],
  options: PermutationOptions,
): Slope {
  const rows = swings.flatMap(({ swing, condition }, place) => {
    const value = swing === null ? null : VALUE[subject](swing);
    return value === null ? [] : [{ place, value, condition }];
  });
  const n = rows.length;
  const unknown = (why: Unavailable) => ({ n, perSwing: why, overSet: why, p: why });
  if (n < LIMITS.minimumN) return unknown({ reason: 'too-few', need: LIMITS.minimumN, have: n });
  const found = commonSlope(
    rows.map(({ place }) => place),
    rows.map(({ value }) => value),
    rows.map(({ condition }) => condition),
    options,
  );
  if (isUnavailable(found)) return unknown(found);
  const { slope, p } = found;
  const steps = swings.length - 1;
  const overSet = {
    ...slope,
    value: steps * slope.value,
    low: steps * slope.low,
    high: steps * slope.high,
  };
  return { n, perSwing: slope, overSet, p };
}

function judge(
  subject: DriftSubject,
  { n, perSwing }: Slope,
  pHolm: number | Unavailable,
): Drift['verdict'] {
  const measure = { limits: LIMITS, words: WORDS[subject] };
  for (const part of [perSwing, pHolm])
    if (isUnavailable(part)) return unknownVerdict(measure, n, part);
  const direction = (perSwing as Estimate).value > 0 ? 'rises' : 'falls';
  return verdictOf(measure, n, (pHolm as number) <= LIMITS.alpha ? direction : 'none');
}
