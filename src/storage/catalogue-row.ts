import type { SetDescription } from '../core/recording/set-description.ts';
import type { Condition } from '../core/recording/set-record.ts';

/** What the list of sets shows of one; the same fields as SetSummary of the worker's contract. */
export interface CatalogueRow
  extends Pick<
    SetDescription,
    'setId' | 'startedAtMs' | 'source' | 'player' | 'implement' | 'ball'
  > {
  readonly swings: number;
  readonly sizeBytes: number;
  /** Each once, in the order in which they came, where there are several; absent for one. */
  readonly kits?: readonly PlayedKit[];
  /** Absent until somebody has asked for it. */
  readonly played?: Played;
}

/** What was swung and what was hit. */
export type PlayedKit = Pick<Condition, 'implement' | 'ball'>;

/** What one set has to be compared by. */
export interface Played extends Pick<SetDescription, 'scoreSteps'> {
  /** In the order in which each first came. */
  readonly conditions: readonly PlayedCondition[];
  /** Place in `conditions` of the last block's. */
  readonly last: number;
}

/** Blocks of one set under one condition. */
export interface PlayedCondition
  extends Pick<Condition, 'implement' | 'ball' | 'feed' | 'implementLengthM'> {
  /** That measures count: with a reach and not discarded. */
  readonly swings: number;
}
