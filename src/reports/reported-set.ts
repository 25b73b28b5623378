import type { ReviewedMeasures } from '../core/measures/measure-set.ts';
import type { LiveView, ScoredSwing } from '../core/pipeline/outputs.ts';
import type { SetDescription } from '../core/recording/set-description.ts';
import type { Condition } from '../core/recording/set-record.ts';
import type { ComparedKits } from './kit-advice.ts';

/** A finished set under one condition, with everything a report says of it. */
export interface ReportedSet {
  readonly description: SetDescription;
  /** In review, its funnel of the condition. */
  readonly view: LiveView;
  /** Places of all blocks of the set by condition, and those reported, from 0. */
  readonly conditions: readonly (readonly number[])[];
  readonly blocks: readonly number[];
  readonly measures: ReviewedMeasures;
  /** Its two kits, from all sets of this player that have both; null: it does not have two of different length. */
  readonly kits: ComparedKits | null;
}

/** What the reported swings were swung under. */
export function conditionOf({ view, blocks }: ReportedSet): Condition {
  return view.blocks[blocks[0]!]!;
}

/** The reported swings, void and discarded ones too, in order. */
export function swingsOf({ view, blocks }: ReportedSet): ScoredSwing[] {
  return view.swings.filter(({ block }) => blocks.includes(block));
}

/** "short racket, training ball, fed by hand" */
export function conditionWords({ implement, ball, feed }: Condition): string {
  return [implement, ball, feed].filter((word) => word !== '').join(', ');
}

/** The day of a set where the device is. */
export function dayWords({ startedAtMs }: SetDescription): string {
  return new Date(startedAtMs).toLocaleDateString('en-GB', { dateStyle: 'long' });
}
