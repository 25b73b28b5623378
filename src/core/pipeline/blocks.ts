import { firstCondition, isSameImplement } from '../recording/conditions.ts';
import type { SetDescription } from '../recording/set-description.ts';
import type { Condition } from '../recording/set-record.ts';
import type { ArmState } from './arm-state.ts';
import { changeImplement } from './zeroing.ts';

/** The blocks of a set in order: the first begins with it, under the condition of its description. Plain data. */
export interface Blocks {
  readonly conditions: Condition[];
  /** Host time, microseconds. */
  readonly beganUs: number[];
}

/** The first block. */
export function createBlocks(description: SetDescription): Blocks {
  return { conditions: [firstCondition(description)], beganUs: [0] };
}

/** Begins another block; another implement needs the poses anew, because its sensor was clipped on again. */
export function beginBlock(
  blocks: Blocks,
  arm: ArmState,
  condition: Condition,
  atUs: number,
): void {
  const isSame = isSameImplement(blocks.conditions.at(-1)!, condition);
  blocks.conditions.push(condition);
  blocks.beganUs.push(atUs);
  if (isSame) return;
  const { lengthsM, sensorFromJointM } = arm.dimensions;
  changeImplement(arm, {
    lengthsM: { ...lengthsM, implement: condition.implementLengthM },
    sensorFromJointM: { ...sensorFromJointM, implement: condition.implementSensorFromWristM },
  });
}

/** The block of an instant, from 0. @param timeUs host time, microseconds */
export function blockAt({ beganUs }: Blocks, timeUs: number): number {
  return Math.max(
    0,
    beganUs.findLastIndex((began) => began <= timeUs),
  );
}

/** The blocks of a set by condition, in the order in which each condition first came. Checked: tests/pipeline/blocks.test.ts */
export function blocksByCondition(conditions: readonly Condition[]): number[][] {
  return conditions.flatMap((_, block) => {
    const alike = [...blocksLike(conditions, block)];
    return alike[0] === block ? [alike] : [];
  });
}

/** The blocks swung under the same condition as one of them, itself included. @param block its place, from 0 */
export function blocksLike(conditions: readonly Condition[], block: number): ReadonlySet<number> {
  const wanted = conditions[block]!;
  const isLike = (condition: Condition): boolean =>
    isSameImplement(condition, wanted) &&
    condition.ball === wanted.ball &&
    condition.feed === wanted.feed;
  return new Set(conditions.flatMap((condition, i) => (isLike(condition) ? [i] : [])));
}
