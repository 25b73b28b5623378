import type { Condition } from './set-record.ts';

/** What the coach has planned for a set before it begins. Part of its description, never changed afterwards. */
export interface SetPlan {
  /** What is played, in the coach's words. */
  readonly task: string;
  /** null: balls are scored by eye alone. */
  readonly target: Target | null;
  /** One at least. */
  readonly conditions: readonly Condition[];
  /** Place in `conditions` of each block, in order; the first is the condition of the description. */
  readonly blocks: readonly number[];
  readonly order: BlockOrder;
  /** What a random order followed from; null for the others. */
  readonly orderSeed: number | null;
  readonly swingsPerBlock: number;
  readonly feedback: FeedbackPlan;
  /** When the coach confirmed the cautions, milliseconds since 1970 (UTC). */
  readonly cautionsConfirmedAtMs: number;
}

/**
 * How conditions follow each other: one after the other and again (AB AB), there and back (AB BA), so that
 * practice and tiredness weigh on all alike, or shuffled within each round.
 */
export type BlockOrder = 'as-listed' | 'mirrored' | 'random';

/** A box on the ground that the ball should land in. Metres. */
export interface Target {
  /** Across the way to the target. */
  readonly widthM: number;
  /** Along it. */
  readonly depthM: number;
  /** Every further step away from the box costs one score step. */
  readonly stepM: number;
}

/** What the player is told after a swing, beside what the coach says. */
export interface FeedbackPlan {
  readonly cue: 'none' | 'tone' | 'speech';
  /** Only a reach off the sweet-spot band is told: silence means good. */
  readonly isOnlyOffBand: boolean;
  /** Ever fewer swings are told from block to block. */
  readonly isFading: boolean;
}
