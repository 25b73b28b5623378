import { describe, expect, test } from 'vitest';
import { armAngles } from '../../src/core/measures/arm-angles.ts';
import { freezing } from '../../src/core/measures/freezing.ts';
import { meanInterval } from '../../src/core/statistics/mean-interval.ts';
import { answered, expectNear } from '../statistics/answers.ts';
import { level, swingFromDirections } from './swing-from-directions.ts';

/** Upper arm swings through half a radian; elbow and wrist from one angle to another, rad. */
function swing(elbow: readonly [number, number], wrist: readonly [number, number]) {
  return swingFromDirections((share) => {
    const upperArm = -2 + 0.5 * share;
    const forearm = upperArm + elbow[0] + (elbow[1] - elbow[0]) * share;
    return [upperArm, forearm, forearm + wrist[0] + (wrist[1] - wrist[0]) * share].map(level);
  });
}

describe('freezing', () => {
  test('excursion is the way from the smallest to the largest angle, mean over swings', () => {
    const further = [0, 0.01, 0.02, 0.05, 0.03, 0.04, 0.01, 0.02, 0.06, 0.03];
    // The wrist passes through straight: 0.3 + 0.5, not 0.5.
    const swings = further.map((more) => swing([-1 - more, -0.4], [-0.3, 0.5 + more]));
    const found = answered(freezing(swings, answered(armAngles(swings))));
    const [elbow, wrist] = [answered(found.elbowExcursionRad), answered(found.wristExcursionRad)];
    const elbows = answered(meanInterval(further.map((more) => 0.6 + more)));
    const wrists = answered(meanInterval(further.map((more) => 0.8 + more)));
    expectNear(elbow.value, elbows.value, 1e-9);
    expectNear(elbow.low, elbows.low, 1e-9);
    expectNear(wrist.value, wrists.value, 1e-7);
    expectNear(wrist.high, wrists.high, 1e-7);
  });

  test('the elbow bends in any plane', () => {
    // A forearm that rises out of the level by half a radian, its turn the upper arm's.
    const swings = Array.from({ length: 10 }, () =>
      swingFromDirections((share) => {
        const [x, y] = level(-2 + share);
        const up = 0.5 * share;
        const forearm = [Math.cos(up) * x, Math.cos(up) * y, Math.sin(up)] as const;
        return [[x, y, 0], forearm, level(-2.2 + 1.4 * share)];
      }),
    );
    const found = answered(freezing(swings, answered(armAngles(swings))));
    expectNear(answered(found.elbowExcursionRad).value, 0.5, 1e-9);
  });

  test('joints that are held have an excursion of nothing, not none', () => {
    const swings = Array.from({ length: 10 }, () => swing([-1, -1], [0.2, 0.2]));
    const found = answered(freezing(swings, answered(armAngles(swings))));
    expect(answered(found.elbowExcursionRad).high).toBeLessThan(1e-9);
    const nine = swings.slice(1);
    expect(freezing(nine, answered(armAngles(nine)))).toEqual({
      reason: 'too-few',
      need: 10,
      have: 9,
    });
  });
});
