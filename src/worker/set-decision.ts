import { usualThresholds } from '../core/measures/accuracy-classes.ts';
import { compareConditions } from '../core/measures/comparison.ts';
import { decide } from '../core/measures/decision.ts';
import type { MeasuredSwing } from '../core/measures/measured-swing.ts';
import { blocksByCondition } from '../core/pipeline/blocks.ts';
import type { SetDescription } from '../core/recording/set-description.ts';
import type { SetDecision } from './contract.ts';
import type { PipelineRun } from './set-ports.ts';

/** Any will do, but the same set must give the same answer every time. */
const DECISION_SEED = 1;
/** As many as Side by side has, so that both say the same. */
const DRAWS = 1999;

/**
 * Which kit of a set serves the player better: of its two conditions, the longer implement being the larger kit. The
 * kit played now is that of the last block.
 * @param run after all records
 * @returns null unless the set has two conditions with implements of different length
 * Checked: tests/worker/player-history.test.ts
 */
export function decideWithin({ scoreSteps }: SetDescription, run: PipelineRun): SetDecision | null {
  const { blocks } = run.view();
  const conditions = blocksByCondition(blocks).map((alike) => alike[0]!);
  const [a, b] = conditions;
  if (a === undefined || b === undefined || conditions.length !== 2) return null;
  const longer = blocks[a]!.implementLengthM - blocks[b]!.implementLengthM;
  if (longer === 0) return null;
  const [larger, smaller] = longer > 0 ? [a, b] : [b, a];
  const fullPoints = Math.max(0, ...scoreSteps);
  const comparison = compareConditions(
    { larger: counted(run.swingsLike(larger)), smaller: counted(run.swingsLike(smaller)) },
    // without a score pad no swing has points, and any threshold does
    {
      seed: DECISION_SEED,
      draws: DRAWS,
      thresholds: usualThresholds(fullPoints > 0 ? fullPoints : 1),
    },
  );
  const last = blocksByCondition(blocks).find((alike) => alike.includes(blocks.length - 1))![0];
  return {
    larger: blocks[larger]!,
    smaller: blocks[smaller]!,
    decision: decide(comparison, last === larger ? 'larger' : 'smaller'),
  };
}

function counted(swings: readonly (MeasuredSwing | null)[]): MeasuredSwing[] {
  return swings.filter((swing) => swing !== null);
}
