import { describe, expect, test } from 'vitest';
import { armAngles } from '../../src/core/measures/arm-angles.ts';
import { type Coupling, coupling } from '../../src/core/measures/coupling.ts';
import type { MeasuredSwing } from '../../src/core/measures/measured-swing.ts';
import { fitSwingTiming } from '../../src/core/measures/swing-timing.ts';
import { standardDeviation } from '../../src/core/statistics/moments.ts';
import { answered, expectNear } from '../statistics/answers.ts';
import { LAW_SCHOOL } from '../statistics/law-school.ts';
import { level, swingFromDirections } from './swing-from-directions.ts';

const RAD = Math.PI / 180;
/** Tolerance for angles found through a fitted plane. */
const THROUGH_PLANE = 1e-7;

/** Swings in the level plane that differ by these steady deviations of the segments, degrees. */
function deviating(deviations: readonly (readonly [number, number, number])[]): MeasuredSwing[] {
  return deviations.map(([a, b, c]) =>
    swingFromDirections((share) =>
      [-150 + 60 * share + a, -170 + 60 * share + b, -230 + 120 * share + c].map((x) =>
        level(x * RAD),
      ),
    ),
  );
}

function coupled(swings: readonly MeasuredSwing[]): Coupling {
  return answered(coupling(answered(armAngles(swings)), fitSwingTiming(swings)));
}

describe('coupling', () => {
  // Fifteen swings whose upper arm deviates as the law schools' scores do, their forearm as the grades.
  const score = Array.from(LAW_SCHOOL.score, (x) => (x - 600) / 50);
  const grade = Array.from(LAW_SCHOOL.grade, (x) => 6 * (x - 3));
  const found = coupled(deviating(score.map((x, i) => [x, grade[i]!, (i % 4) - 1.5])));

  test('segments in space correlate as their deviations do, with Fisher’s interval (reference.md B3)', () => {
    for (const point of [0, 50, 100]) {
      const r = answered(found.upperArmForearm[point]!);
      expectNear(r.value, 0.7763744912894073, THROUGH_PLANE);
      expectNear(r.low, 0.438510824963, THROUGH_PLANE);
      expectNear(r.high, 0.921964755965, THROUGH_PLANE);
      expectNear(r.p, 0.000665102011, 1e-5);
    }
    expect(found.n).toBe(15);
  });

  test('with the elbow: the correlation of x and y - x', () => {
    const [sx, sy] = [answered(standardDeviation(score)), answered(standardDeviation(grade))];
    const r = 0.7763744912894073;
    const expected = (r * sy - sx) / Math.sqrt(sx * sx + sy * sy - 2 * r * sx * sy);
    expectNear(answered(found.upperArmElbow[100]!).value, expected, 1e-6);
    expectNear(answered(found.atContact.withElbow).value, expected, 1e-6);
  });

  test('the mean movement: both segments turn alike, the implement twice as far', () => {
    for (const step of found.stepUpperArmForearm) {
      const { meanRad, resultantLength } = answered(step);
      expectNear(answered(meanRad) / RAD, 45, 1e-6);
      expectNear(resultantLength, 1, 1e-9);
    }
    const wrist = answered(found.stepForearmImplement[4]!);
    // reference.md B9, turned round: steps of 1 and 2
    expectNear(answered(wrist.meanRad) / RAD, 90 - 26.5650511771, 1e-6);
  });

  test('a stiff arm turned as a whole correlates perfectly in space, and the elbow says nothing', () => {
    const stiff = coupled(deviating(score.map((x) => [x, x, x])));
    expectNear(answered(stiff.upperArmForearm[100]!).value, 1, 1e-9);
    expect(stiff.upperArmElbow[100]).toEqual({ reason: 'no-spread' });
    expect(stiff.atContact.withElbow).toEqual({ reason: 'no-spread' });
  });

  test('one course met early or late correlates perfectly, until the timing is taken out', () => {
    const swings = score.map((_, i) => {
      const late = 0.01 * ((i % 5) - 2) + 0.002 * ((i % 7) - 3);
      return swingFromDirections((share) =>
        [-150 + 60 * (share + late), -190 + 100 * (share + late), -250 + 170 * (share + late)].map(
          (x, k) => level((x + 0.2 * Math.sin(5 * i + 2 * k)) * RAD),
        ),
      );
    });
    const { inSpace, withoutTiming } = coupled(swings).atContact;
    expect(answered(inSpace).value).toBeGreaterThan(0.95);
    expect(answered(withoutTiming).low).toBeLessThan(0);
  });

  test('needs ten swings', () => {
    const few = deviating(score.slice(0, 9).map((x, i) => [x, grade[i]!, 0]));
    expect(coupling(answered(armAngles(few)), fitSwingTiming(few))).toEqual({
      reason: 'too-few',
      need: 10,
      have: 9,
    });
  });
});
