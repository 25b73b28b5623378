import type { SetMeasures } from '../measures/measure-set.ts';
import { blocksLike } from '../pipeline/blocks.ts';
import type { LiveView, ScoredSwing } from '../pipeline/outputs.ts';
import type { PipelineState } from '../pipeline/pipeline.ts';
import { measureReviewed, reviewPipeline } from '../pipeline/review.ts';
import type { SetDescription } from '../recording/set-description.ts';
import type { StoredSet } from '../recording/set-reader.ts';
import type { Condition } from '../recording/set-record.ts';

/** How whole the file of a set was. */
export type FileState = Pick<StoredSet, 'complete' | 'fault' | 'lostBytes' | 'skippedRecords'>;

/** A reviewed set under one condition, with all that is exported of it. */
export interface SetRow {
  readonly description: SetDescription;
  readonly condition: Condition;
  /** Places of the blocks swung under it, from 0, and how many the set has. */
  readonly blocks: readonly number[];
  readonly blockCount: number;
  /** With the funnel of the condition. */
  readonly view: LiveView;
  /** The condition's swings, void and discarded ones too. */
  readonly swings: readonly ScoredSwing[];
  readonly measures: SetMeasures;
  /** null: the set did not come from a set file. */
  readonly file: FileState | null;
}

/**
 * A finished set, one row per condition in the order of their first blocks; most sets have one.
 * @param options seed and number of resamples of the intervals
 */
export function setRows(
  state: PipelineState,
  file: FileState | null,
  options: Parameters<typeof measureReviewed>[1],
): SetRow[] {
  const { conditions } = state.blocks;
  return conditions.flatMap((condition, block) => {
    const blocks = [...blocksLike(conditions, block)];
    if (blocks[0] !== block) return [];
    const view = reviewPipeline(state, block);
    return [
      {
        description: state.description,
        condition,
        blocks,
        blockCount: conditions.length,
        view,
        swings: view.swings.filter((swing) => blocks.includes(swing.block)),
        measures: Object.assign({}, ...measureReviewed(state, options, block)) as SetMeasures,
        file,
      },
    ];
  });
}
