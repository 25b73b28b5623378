import type { Estimate, Unavailable } from '../statistics/estimate.ts';
import type { PermutationOptions, PermutationResult } from '../statistics/permutation-test.ts';
import type { AccuracyThresholds } from './accuracy-classes.ts';
import type { COMPARED } from './comparison-words.ts';
import type { MeasuredSwing } from './measured-swing.ts';

export type ComparedName = keyof typeof COMPARED;

/** The longer or heavier kit, and its scaled form. */
export type Kit = 'smaller' | 'larger';

/** Swings of one player under two conditions. */
export interface TwoConditions {
  readonly smaller: readonly MeasuredSwing[];
  readonly larger: readonly MeasuredSwing[];
}

export interface ComparisonOptions extends PermutationOptions {
  readonly thresholds: AccuracyThresholds;
  /** Of the intervals by bootstrap. */
  readonly resamples?: number;
}

/** One measure under both conditions, before any correction for how many there are. */
export interface MeasureContrast {
  readonly smaller: number | Unavailable;
  readonly larger: number | Unavailable;
  /** Smaller less larger, or smaller over larger, as COMPARED says. */
  readonly contrast: Estimate | Unavailable;
  readonly p: PermutationResult | Unavailable;
}

/** A measure that cannot be had in either condition, with the one reason why. */
export function unknownContrast(why: Unavailable): MeasureContrast {
  return { smaller: why, larger: why, contrast: why, p: why };
}

/** Why a measure that needs so many swings of each condition cannot be had, or null. */
export function tooFewIn({ smaller, larger }: TwoConditions, need: number): Unavailable | null {
  const have = Math.min(smaller.length, larger.length);
  return have < need ? { reason: 'too-few', need, have } : null;
}
