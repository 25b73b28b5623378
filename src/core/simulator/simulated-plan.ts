import type { BlockOrder, SetPlan } from '../recording/set-plan.ts';
import type { Condition } from '../recording/set-record.ts';
import { conditionOf } from './kit.ts';
import type { Kit, SessionOptions } from './session-types.ts';

/**
 * The plan of a simulated set of several blocks, as a coach would have made it.
 * @param confirmedAtMs when the cautions were confirmed, milliseconds since 1970 (UTC)
 * @returns null for a session of one block
 * @throws RangeError when the blocks are not all of one size, which a plan cannot say
 */
export function simulatedPlan(options: SessionOptions, confirmedAtMs: number): SetPlan | null {
  const later = options.laterBlocks ?? [];
  if (later.length === 0) return null;
  const { swings } = options;
  const other = later.find((block) => block.swings !== swings);
  if (other !== undefined) {
    throw new RangeError(
      `all blocks of a planned set have one size: the first has ${swings} swings, a later one ${other.swings}`,
    );
  }
  const kits: Kit[] = [options, ...later];
  const isSame = (a: Kit, b: Kit): boolean => a.implement === b.implement && a.ball === b.ball;
  const different = kits.filter((kit, i) => kits.findIndex((k) => isSame(k, kit)) === i);
  const blocks = kits.map((kit) => different.findIndex((k) => isSame(k, kit)));
  return {
    task: 'Forehand drive',
    target: null,
    conditions: different.map((kit): Condition => conditionOf(kit)),
    blocks,
    order: orderOf(blocks),
    orderSeed: null,
    swingsPerBlock: swings,
    feedback: { cue: 'none', isOnlyOffBand: false, isFading: false },
    cautionsConfirmedAtMs: confirmedAtMs,
  };
}

/** ABBA is mirrored. */
function orderOf(blocks: readonly number[]): BlockOrder {
  return blocks.join() === '0,1,1,0' ? 'mirrored' : 'as-listed';
}
