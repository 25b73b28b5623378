import { describe, expect, test } from 'vitest';
import { postureDeviations, reachGradient } from '../../src/core/measures/posture-deviations.ts';
import { answered } from '../statistics/answers.ts';
import { level, swingFromDirections } from './swing-from-directions.ts';

const LENGTHS = [0.28, 0.25, 0.5] as const;

describe('postureDeviations', () => {
  test('turns are the angles by which directions differ from their mean', () => {
    const swings = [-0.3, 0.3].map((turn) =>
      swingFromDirections(() => [level(1 + turn), [0, 0.6, 0.8], level(-turn)], {
        lengthsM: LENGTHS,
      }),
    );
    const { n, turnRad } = answered(postureDeviations(swings, [0, 50]));
    expect(n).toBe(2);
    for (const row of [0, 1, 2, 3]) {
      const turn = (k: number) =>
        Math.hypot(turnRad[6 * row + 2 * k]!, turnRad[6 * row + 2 * k + 1]!);
      expect(turn(0)).toBeCloseTo(0.3, 12);
      expect(turn(1)).toBeCloseTo(0, 12);
      expect(turn(2)).toBeCloseTo(0.3, 12);
    }
    // the two swings turn opposite ways
    expect(turnRad[0]! + turnRad[6]!).toBeCloseTo(0, 12);
  });

  test('says what is missing', () => {
    const swing = swingFromDirections(() => [level(0), level(1), level(2)]);
    const back = swingFromDirections(() => [level(0), level(1 + Math.PI), level(2)]);
    const broken = { ...swing, directions: swing.directions.map((x, i) => (i === 5 ? NaN : x)) };
    expect(postureDeviations([swing], [0])).toEqual({ reason: 'too-few', need: 2, have: 1 });
    expect(postureDeviations([swing, back], [0])).toEqual({ reason: 'no-direction' });
    expect(postureDeviations([swing, broken], [0])).toEqual({ reason: 'not-finite', index: 1 });
  });
});

describe('reachGradient', () => {
  test('of a planar arm is the handbook Jacobian (reference.md C2, case D)', () => {
    const mean = [0.7007496947, 1.3107422683, 1.6580627893];
    const swing = swingFromDirections(() => mean.map(level), { lengthsM: LENGTHS });
    const { postures } = answered(postureDeviations([swing, swing], [0]));
    const out = new Float64Array(6);
    reachGradient(out, postures[0]!, LENGTHS, new Float64Array(6));
    for (const [k, expected] of [0.1627581628, 0.002576766365, 0.1653349291].entries())
      expect(Math.hypot(out[2 * k]!, out[2 * k + 1]!)).toBeCloseTo(expected, 9);
  });

  test('of a bent arm in space is the slope of reach, at the mean posture and beside it', () => {
    // The third vectors of reference.md E, "3-D chain", as directions.
    const parts = [
      [-0.1212435565, -0.14, -0.21],
      [0.1625468981, -0.1802289684, -0.05996686482],
      [0.2371715437, -0.3630268509, -0.248919996],
    ].map((p, k) => p.map((x) => x / LENGTHS[k]!) as [number, number, number]);
    const swing = swingFromDirections(() => parts, { lengthsM: LENGTHS });
    const posture = answered(postureDeviations([swing, swing], [0])).postures[0]!;
    const aside = Float64Array.of(0.02, -0.01, 0.03, 0.01, -0.02, 0.02);
    for (const at of [new Float64Array(6), aside]) {
      const out = new Float64Array(6);
      reachGradient(out, posture, LENGTHS, at);
      for (let j = 0; j < 6; j++) {
        const slope =
          (reachTurned(posture, at, j, 1e-5) - reachTurned(posture, at, j, -1e-5)) / 2e-5;
        // beside the mean posture the formula is right to second order in the turn (0.04^2)
        expect(Math.abs(out[j]! - slope)).toBeLessThan(at === aside ? 1e-3 : 1e-8);
      }
    }
  });
});

/** Reach with the segments turned along their axes, by the exponential map. */
function reachTurned(
  posture: { directions: readonly Float64Array[]; axes: readonly Float64Array[] },
  turnRad: Float64Array,
  j: number,
  extra: number,
): number {
  const tip = [0, 0, 0];
  for (let k = 0; k < 3; k++) {
    const turn = [0, 1].map((a) => turnRad[2 * k + a]! + (j === 2 * k + a ? extra : 0));
    const angle = Math.hypot(turn[0]!, turn[1]!);
    const stretch = angle === 0 ? 1 : Math.sin(angle) / angle;
    for (let i = 0; i < 3; i++)
      tip[i]! +=
        LENGTHS[k]! *
        (Math.cos(angle) * posture.directions[k]![i]! +
          stretch *
            (turn[0]! * posture.axes[2 * k]![i]! + turn[1]! * posture.axes[2 * k + 1]![i]!));
  }
  return Math.hypot(...tip);
}
