import { readCondition } from './condition-json.ts';
import { asList, asNumber, asObject, asOneOf, asText, ShapeError } from './json-shape.ts';
import type { BlockOrder, FeedbackPlan, SetPlan, Target } from './set-plan.ts';
import type { Condition } from './set-record.ts';

/** Latest instant a JavaScript date can hold (ECMA-262, time values). */
export const MAX_DATE_MS = 8.64e15;
const MAX_TASK = 200;
const MAX_CONDITIONS = 100;
const MAX_BLOCKS = 1000;
const MAX_SWINGS = 10_000;
const MAX_SEED = 2 ** 32 - 1;
const ORDERS = ['as-listed', 'mirrored', 'random'] as const satisfies readonly BlockOrder[];
const CUES = ['none', 'tone', 'speech'] as const satisfies readonly FeedbackPlan['cue'][];
/** No court is longer, metres. */
const MAX_TARGET_M = 100;
const MIN_TARGET_M = 0.01;

/**
 * Checks a plan that came from outside (file, other thread, the browser's storage).
 * @param value parsed JSON
 * @returns a new object with the known fields only; metres and milliseconds as in SetPlan
 * @throws ShapeError naming the first field that is missing or wrong
 * Checked: tests/recording/plan-fields.test.ts
 */
export function readPlan(value: unknown): SetPlan {
  const from = asObject(value, 'plan');
  const conditions = asList(from.conditions, 'plan.conditions', MAX_CONDITIONS).map(
    (condition, i): Condition => readCondition(condition, `plan.conditions[${i}]`),
  );
  if (conditions.length === 0) throw new ShapeError('plan.conditions must have one at least');
  const blocks = asList(from.blocks, 'plan.blocks', MAX_BLOCKS).map((block, i) =>
    asWhole(block, `plan.blocks[${i}]`, 0, conditions.length - 1),
  );
  if (blocks.length === 0) throw new ShapeError('plan.blocks must have one block at least');
  const order = asOneOf(from.order, 'plan.order', ORDERS);
  return {
    task: asText(from.task, 'plan.task', MAX_TASK),
    target: from.target === null ? null : readTarget(from.target),
    conditions,
    blocks,
    order,
    orderSeed: readSeed(from.orderSeed, order),
    swingsPerBlock: asWhole(from.swingsPerBlock, 'plan.swingsPerBlock', 1, MAX_SWINGS),
    feedback: readFeedback(from.feedback),
    cautionsConfirmedAtMs: asNumber(
      from.cautionsConfirmedAtMs,
      'plan.cautionsConfirmedAtMs',
      0,
      MAX_DATE_MS,
    ),
  };
}

function readTarget(value: unknown): Target {
  const from = asObject(value, 'plan.target');
  const metres = (name: keyof Target): number =>
    asNumber(from[name], `plan.target.${name}`, MIN_TARGET_M, MAX_TARGET_M);
  return { widthM: metres('widthM'), depthM: metres('depthM'), stepM: metres('stepM') };
}

function readSeed(value: unknown, order: BlockOrder): number | null {
  if (order === 'random') return asWhole(value, 'plan.orderSeed', 0, MAX_SEED);
  if (value !== null) {
    throw new ShapeError(`plan.orderSeed must be null, since the order is ${order}`);
  }
  return null;
}

function readFeedback(value: unknown): FeedbackPlan {
  const from = asObject(value, 'plan.feedback');
  return {
    cue: asOneOf(from.cue, 'plan.feedback.cue', CUES),
    isOnlyOffBand: asYesNo(from.isOnlyOffBand, 'plan.feedback.isOnlyOffBand'),
    isFading: asYesNo(from.isFading, 'plan.feedback.isFading'),
  };
}

function asWhole(value: unknown, where: string, min: number, max: number): number {
  const found = asNumber(value, where, min, max);
  if (!Number.isInteger(found)) {
    throw new ShapeError(`${where} must be a whole number, found ${found}`);
  }
  return found;
}

function asYesNo(value: unknown, where: string): boolean {
  if (typeof value !== 'boolean') throw new ShapeError(`${where} must be true or false`);
  return value;
}
