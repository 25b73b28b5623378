import type { ScoredSwing } from '../../core/pipeline/outputs.ts';
import type { SetPlan } from '../../core/recording/set-plan.ts';
import type { Condition } from '../../core/recording/set-record.ts';
import { isStruck } from './coach-log.ts';

/** Where a set stands in its plan. */
export interface BlockProgress {
  /** Of the running block, from 0. */
  readonly block: number;
  readonly condition: Condition;
  /** Balls met in it that were not discarded. */
  readonly swings: number;
  /** Planned; null without a plan, and for blocks beyond it. */
  readonly wanted: number | null;
  /** Planned blocks; null without a plan. */
  readonly blocks: number | null;
  /** Condition of the next planned block; null when none is left. */
  readonly next: Condition | null;
}

/**
 * Counts a set's swings against its plan.
 * @param conditions of the blocks so far, one at least
 */
export function blockProgress(
  plan: SetPlan | undefined,
  conditions: readonly Condition[],
  swings: readonly ScoredSwing[],
): BlockProgress {
  const block = conditions.length - 1;
  const condition = conditions[block]!;
  const nextAt = plan?.blocks[block + 1];
  const next = nextAt === undefined ? null : plan!.conditions[nextAt]!;
  const isPlanned = plan !== undefined && block < plan.blocks.length;
  return {
    block,
    condition,
    swings: swings.filter(
      (scored) => scored.block === block && isStruck(scored) && !scored.discarded,
    ).length,
    wanted: isPlanned ? plan.swingsPerBlock : null,
    blocks: plan?.blocks.length ?? null,
    next,
  };
}

/** A condition in a line: '580 mm racket, training ball, fed by hand'. */
export function conditionWords({ implement, ball, feed }: Condition): string {
  return [implement, ball, feed].filter((part) => part !== '').join(', ');
}
