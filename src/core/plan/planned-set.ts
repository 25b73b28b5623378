import { readScoreSteps } from '../recording/description-json.ts';
import { asObject, parseJson } from '../recording/json-shape.ts';
import { readPlan } from '../recording/plan-json.ts';
import type { SetDescription } from '../recording/set-description.ts';
import type { SetPlan } from '../recording/set-plan.ts';

/** Everything about a set but its player: the same plan serves a whole group. Plain data, metres. */
export interface PlannedSet extends Pick<SetDescription, 'scoreSteps'> {
  readonly plan: SetPlan;
}

/**
 * Reads a planned set that was kept as JSON.
 * @throws ShapeError naming the first field that is missing or wrong
 * Checked: tests/plan/planned-set.test.ts
 */
export function readPlannedSet(text: string): PlannedSet {
  const from = asObject(parseJson(text, 'the kept plan'), 'the kept plan');
  return {
    plan: readPlan(from.plan),
    scoreSteps: readScoreSteps(from.scoreSteps),
  };
}
