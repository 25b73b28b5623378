import type { Target } from '../recording/set-plan.ts';

/** Where a ball landed off the target's middle: beyond it (away from the player) and to its left, metres. */
export interface Landing {
  readonly beyondM: number;
  readonly leftM: number;
}

/** A ball on a line of the target's scale counts for the better side, in spite of binary fractions. */
const ON_THE_LINE = 1e-9;

/**
 * Points of a ball by where it landed: the best in the box or on its edge, one step less for every `stepM` begun
 * beyond the edge (shortest way to the box), never less than the last step.
 * @param scoreSteps points, best first
 * @throws RangeError when there are no steps, the landing is not known, or the target has no size
 * Checked: tests/plan/target-points.test.ts
 */
export function targetPoints(
  { beyondM, leftM }: Landing,
  { widthM, depthM, stepM }: Target,
  scoreSteps: readonly number[],
): number {
  const offM = Math.hypot(
    Math.max(0, Math.abs(beyondM) - depthM / 2),
    Math.max(0, Math.abs(leftM) - widthM / 2),
  );
  if (!Number.isFinite(offM) || !(stepM > 0)) {
    throw new RangeError(
      `a landing needs two distances and its target a step, got ${beyondM}, ${leftM} and ${stepM} m`,
    );
  }
  const stepsLost = Math.ceil(offM / stepM - ON_THE_LINE);
  const points = scoreSteps[Math.min(stepsLost, scoreSteps.length - 1)];
  if (points === undefined) throw new RangeError('there are no score steps');
  return points;
}
