import type { MeasuredSwing } from '../measures/measured-swing.ts';
import { blocksLike } from './blocks.ts';
import { measuredSwings } from './measured-swings.ts';
import { type PipelineState, scoredSwings } from './pipeline.ts';
import { reviewSwings } from './review.ts';

/**
 * The swings of a finished set under one condition as measures that join sets take them: read with hindsight, in
 * order; null: void or discarded, which keeps its place.
 * @param block whose condition is meant, from 0
 * Checked: tests/worker/player-history.test.ts
 */
export function reviewedSwings(state: PipelineState, block: number): (MeasuredSwing | null)[] {
  const readings = reviewSwings(state);
  const scored = scoredSwings(state, readings);
  const blocks = blocksLike(state.blocks.conditions, block);
  return readings.flatMap((reading, i) =>
    blocks.has(scored[i]!.block)
      ? [measuredSwings([reading], [scored[i]!], blocks)[0] ?? null]
      : [],
  );
}
