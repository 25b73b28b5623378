import type { Unavailable } from '../statistics/estimate.ts';
import type { MeasuredSwing } from './measured-swing.ts';

/** Best first. */
export const ACCURACY_CLASSES = ['accurate', 'fair', 'poor'] as const;
export type AccuracyClass = (typeof ACCURACY_CLASSES)[number];

/** From how many points on a ball is accurate, and from how many at least fair; what is less is poor. */
export interface AccuracyThresholds {
  readonly accurateFrom: number;
  readonly fairFrom: number;
}

/** Swings of each class, by their place among the swings. */
export interface AccuracyClasses {
  readonly rows: Readonly<Record<AccuracyClass, Int32Array<ArrayBuffer>>>;
  /** All scored swings, in order, and their points. */
  readonly scored: Int32Array;
  readonly points: Float64Array;
}

/**
 * Full points; at least half of them. @throws RangeError unless positive
 * Source: design.md section 9.  Checked: tests/measures/accuracy-classes.test.ts
 */
export function usualThresholds(fullPoints: number): AccuracyThresholds {
  if (!(fullPoints > 0 && fullPoints < Infinity))
    throw new RangeError(`Full score of ${fullPoints} points: give a positive number`);
  return { accurateFrom: fullPoints, fairFrom: fullPoints / 2 };
}

/**
 * Sorts swings into classes by the coach's points; those not scored are in none.
 * @throws RangeError unless accurateFrom > fairFrom
 * Source: design.md section 9.
 * Checked: tests/measures/accuracy-classes.test.ts
 */
export function classifyByScore(
  swings: readonly Pick<MeasuredSwing, 'points'>[],
  { accurateFrom, fairFrom }: AccuracyThresholds,
): AccuracyClasses | Unavailable {
  if (!(accurateFrom > fairFrom))
    throw new RangeError(
      `Accurate from ${accurateFrom} points, fair from ${fairFrom}: accurate must ask for more`,
    );
  const rows: Record<AccuracyClass, number[]> = { accurate: [], fair: [], poor: [] };
  const scored: number[] = [];
  for (const [index, { points }] of swings.entries()) {
    if (points === null) continue;
    if (!Number.isFinite(points)) return { reason: 'not-finite', index };
    scored.push(index);
    if (points >= accurateFrom) rows.accurate.push(index);
    else if (points >= fairFrom) rows.fair.push(index);
    else rows.poor.push(index);
  }
  return {
    rows: {
      accurate: Int32Array.from(rows.accurate),
      fair: Int32Array.from(rows.fair),
      poor: Int32Array.from(rows.poor),
    },
    scored: Int32Array.from(scored),
    points: Float64Array.from(scored, (index) => swings[index]!.points!),
  };
}
