import {
  ACCURACY_CLASSES,
  type AccuracyClass,
  classifyByScore,
  usualThresholds,
} from '../../core/measures/accuracy-classes.ts';
import type { ReviewedMeasures } from '../../core/measures/measure-set.ts';
import type { LiveView, ScoredSwing } from '../../core/pipeline/outputs.ts';
import type { SetDescription } from '../../core/recording/set-description.ts';
import type { Condition } from '../../core/recording/set-record.ts';
import { isUnavailable } from '../../core/statistics/estimate.ts';
import type { Shape } from './paths.ts';

/** A finished set under one condition, as pictures are made of it. */
export interface ReadSet {
  readonly description: SetDescription;
  readonly view: LiveView;
  /** Blocks under the condition, from 0. */
  readonly blocks: readonly number[];
  /** Those computed so far. */
  readonly measures: Partial<ReviewedMeasures>;
}

/** What all swings that are read were swung under. */
export function conditionOf({ view, blocks }: Omit<ReadSet, 'measures'>): Condition {
  return view.blocks[blocks[0]!]!;
}

/** Every swing under the condition, in order. */
export function swingsOf({ view, blocks }: Omit<ReadSet, 'measures'>): ScoredSwing[] {
  return view.swings.filter(({ block }) => blocks.includes(block));
}

/** Those that measures count: neither void nor left out. */
export function countedSwings(read: Omit<ReadSet, 'measures'>): ScoredSwing[] {
  return swingsOf(read).filter(({ swing, discarded }) => swing.voidReason === null && !discarded);
}

/** Places of the swings of each class; those not scored are in none. */
export function rowsByClass(
  swings: readonly ScoredSwing[],
  { scoreSteps }: SetDescription,
): Readonly<Record<AccuracyClass, Int32Array>> {
  const found = classifyByScore(swings, usualThresholds(Math.max(1, ...scoreSteps)));
  const none = new Int32Array(0);
  return isUnavailable(found) ? { accurate: none, fair: none, poor: none } : found.rows;
}

/** How balls of a class are drawn: shape first, colour repeats it. */
export interface ClassLook {
  readonly label: string;
  readonly shape: Shape;
  readonly colour: string;
  readonly dash?: string;
}

export const CLASS_LOOKS: Readonly<Record<AccuracyClass, ClassLook>> = {
  accurate: { label: 'accurate', shape: 'circle', colour: '--in' },
  fair: { label: 'fair', shape: 'square', colour: '--ink-soft', dash: '2 4' },
  poor: { label: 'poor', shape: 'diamond', colour: '--off', dash: '9 5' },
};

const NOT_SCORED: ClassLook = { label: 'not scored', shape: 'cross', colour: '--ink-soft' };

/** Swings of one look, those not scored last; empty ones are left out. */
export function groupsByClass(
  swings: readonly ScoredSwing[],
  description: SetDescription,
): readonly { readonly look: ClassLook; readonly rows: Int32Array }[] {
  const rows = rowsByClass(swings, description);
  const unscored = Int32Array.from(swings.flatMap(({ points }, i) => (points === null ? [i] : [])));
  return [
    ...ACCURACY_CLASSES.map((name) => ({ look: CLASS_LOOKS[name], rows: rows[name] })),
    { look: NOT_SCORED, rows: unscored },
  ].filter((group) => group.rows.length > 0);
}

/** How the three segments are drawn. */
export const SEGMENT_LOOKS = [
  { label: 'upper arm', colour: '--ink-soft', soft: '--floor', dash: '2 4' },
  { label: 'forearm', colour: '--in', soft: '--in-soft', dash: undefined },
  { label: 'implement', colour: '--off', soft: '--off-soft', dash: '9 5' },
] as const;

export const CM = 100;
export const DEG = 180 / Math.PI;

/** The number of an estimate, its ends, and null where there is none. @param scale to the unit of the table */
export function estimateCells(
  estimate: unknown,
  scale = 1,
): readonly [number | null, number | null, number | null] {
  if (!isEstimate(estimate)) return [null, null, null];
  return [scale * estimate.value, scale * estimate.low, scale * estimate.high];
}

function isEstimate(x: unknown): x is { value: number; low: number; high: number } {
  return typeof x === 'object' && x !== null && 'low' in x && 'high' in x && 'value' in x;
}
