import { orderBlocks } from '../../core/plan/block-order.ts';
import type { PlannedSet } from '../../core/plan/planned-set.ts';
import type { BlockOrder, FeedbackPlan } from '../../core/recording/set-plan.ts';
import {
  conditionOf,
  entryOfCondition,
  hasBand,
  type KitEntry,
  kitProblem,
  NEW_KIT,
} from './kit-entry.ts';

/** The Plan form as typed; lengths of kit and reach in centimetres, of the target in metres. */
export interface PlanEntry {
  /** May stay empty. */
  readonly task: string;
  /** One to four. */
  readonly kits: readonly KitEntry[];
  readonly order: BlockOrder;
  /** A random order follows from it. */
  readonly seed: number;
  /** How often each kit comes. */
  readonly rounds: number;
  readonly swingsPerBlock: number;
  readonly scoring: 'eye' | 'box';
  readonly widthM: number;
  readonly depthM: number;
  readonly stepM: number;
  /** Best first, with spaces between. */
  readonly points: string;
  readonly feedback: FeedbackPlan;
}

export const MAX_KITS = 4;
/** Points for the distance from the middle of the target, best first, unless said otherwise. */
export const USUAL_STEPS: readonly number[] = [10, 8, 6, 4, 2, 0];
/** As many as the score pad and the digit keys serve well. */
const MAX_STEPS = 9;

/** Four blocks of ten with one kit, scored by eye, nothing told. @param seed of a random order */
export function newPlan(seed: number): PlanEntry {
  return {
    task: '',
    kits: [NEW_KIT],
    order: 'mirrored',
    seed,
    rounds: 4,
    swingsPerBlock: 10,
    scoring: 'eye',
    widthM: 1.5,
    depthM: 1.5,
    stepM: 0.5,
    points: USUAL_STEPS.join(' '),
    feedback: { cue: 'none', isOnlyOffBand: false, isFading: false },
  };
}

/**
 * The last plan again. A random order is shuffled anew: the same one twice would favour the same kit twice.
 * @param seed of the new random order
 */
export function entryOfPlan({ plan, scoreSteps }: PlannedSet, seed: number): PlanEntry {
  const fresh = newPlan(seed);
  return {
    ...fresh,
    ...(plan.target ?? {}),
    task: plan.task,
    kits: plan.conditions.slice(0, MAX_KITS).map(entryOfCondition),
    order: plan.order,
    rounds: Math.max(1, Math.round(plan.blocks.length / plan.conditions.length)),
    swingsPerBlock: plan.swingsPerBlock,
    scoring: plan.target === null ? 'eye' : 'box',
    points: scoreSteps.join(' '),
    feedback: plan.feedback,
  };
}

/** Place in `kits` of each block, in order. */
export function blocksOf({ kits, rounds, order, seed }: PlanEntry): readonly number[] {
  return orderBlocks({ conditions: kits.length, rounds, order, seed });
}

/** Points as typed; null unless they are two to nine different numbers, best first. */
export function readPoints(text: string): readonly number[] | null {
  const steps = text
    .trim()
    .split(/[\s;]+/)
    .map(Number);
  const isFalling = steps.every((step, i) => i === 0 || step < steps[i - 1]!);
  return steps.every(Number.isFinite) && isFalling && steps.length > 1 && steps.length <= MAX_STEPS
    ? steps
    : null;
}

/** What no single field can tell, in words; null when the plan can be played once every field is filled in. */
export function planProblem(entry: PlanEntry): string | null {
  if (readPoints(entry.points) === null) {
    return 'Points: two to nine numbers, the best first, with spaces between, as in 10 8 6 4 2 0.';
  }
  return kitProblem(entry.kits);
}

/**
 * The plan of a form that is filled in and has no problem.
 * @param confirmedAtMs when the cautions were confirmed, milliseconds since 1970 (UTC)
 */
export function plannedSetOf(entry: PlanEntry, confirmedAtMs: number): PlannedSet {
  const { widthM, depthM, stepM } = entry;
  const blocks = blocksOf(entry);
  return {
    plan: {
      task: entry.task.trim(),
      target: entry.scoring === 'box' ? { widthM, depthM, stepM } : null,
      conditions: entry.kits.map(conditionOf),
      blocks,
      order: entry.order,
      orderSeed: entry.order === 'random' ? entry.seed : null,
      swingsPerBlock: entry.swingsPerBlock,
      feedback: {
        cue: entry.feedback.cue,
        isOnlyOffBand: entry.feedback.isOnlyOffBand && entry.kits.some(hasBand),
        isFading: entry.feedback.isFading && blocks.length > 1,
      },
      cautionsConfirmedAtMs: confirmedAtMs,
    },
    scoreSteps: readPoints(entry.points) ?? [],
  };
}
