import { describe, expect, it } from 'vitest';
import { geometryNull } from '../../src/core/measures/geometry-null.ts';
import type { MeasuredSwing } from '../../src/core/measures/measured-swing.ts';
import { reachInPercent } from '../../src/core/measures/reach-table.ts';
import { fitSwingTiming } from '../../src/core/measures/swing-timing.ts';
import { answered } from '../statistics/answers.ts';
import { UNCORRELATED } from './hand-made-swings.ts';
import { swingFromDirections } from './swing-from-directions.ts';

const LENGTHS_M = [0.25, 0.2, 0.55] as const;

/** Turns of a planar arm, rad; straight at contact when `bend` is 0. */
const turnsAt = (s: number, bend: number) => [
  -1.2 * (1 - s),
  bend - 2 * (1 - s),
  -0.5 * bend - 2.6 * (1 - s),
];

/** Twelve swings whose turns and rises keep uncorrelated deviations of the given SD, rad. */
function ballistic(bend: number, turnSd: number, riseSd = 0): MeasuredSwing[] {
  return Array.from({ length: 12 }, (_, i) =>
    swingFromDirections((s) =>
      turnsAt(s, bend).map((turn, k) => {
        const a = turn + turnSd * UNCORRELATED[k]![i]!;
        const e = riseSd * UNCORRELATED[(k + 1) % 3]![i]!;
        return [Math.cos(e) * Math.cos(a), Math.cos(e) * Math.sin(a), Math.sin(e)] as const;
      }),
    ),
  );
}

/** The swings as they are, without differences of timing taken out. */
function nullOf(swings: MeasuredSwing[]) {
  const fitted = fitSwingTiming(swings);
  const none = new Float64Array(swings.length);
  const timing = { ...fitted, shift: none, lag: none };
  return answered(geometryNull(swings, reachInPercent(swings), timing));
}

/**
 * Gradient of the reach of a planar arm, by the law of cosines:
 *   r^2 = sum_kl L_k L_l cos(a_k - a_l),  dr/da_k = -(L_k / r) sum_l L_l sin(a_k - a_l)
 */
function gradient(turns: readonly number[]): number[] {
  const pairs = (f: (k: number, l: number) => number) =>
    [0, 1, 2].map((k) => [0, 1, 2].reduce((sum, l) => sum + f(k, l), 0));
  const square = pairs((k, l) => LENGTHS_M[k]! * LENGTHS_M[l]! * Math.cos(turns[k]! - turns[l]!));
  const r = Math.sqrt(square.reduce((sum, x) => sum + x, 0));
  return pairs((k, l) => (-LENGTHS_M[k]! * LENGTHS_M[l]! * Math.sin(turns[k]! - turns[l]!)) / r);
}

describe('geometryNull', () => {
  it('is sqrt(J C J) of the later posture for small deviations', () => {
    const sd = 1e-3;
    const { spreadM } = nullOf(ballistic(0.9, sd));
    expect(spreadM[49]).toBeNaN();
    for (const p of [50, 60, 75, 90, 100]) {
      // Uncorrelated deviations of one SD: C is sd^2 times the identity.
      const wanted = sd * Math.hypot(...gradient(turnsAt(p / 100, 0.9)));
      expect(Math.abs(spreadM[p]! / wanted - 1)).toBeLessThan(0.002);
    }
  });

  it('predicts what a kept deviation does, in the plane and out of it', () => {
    // Turn and rise are not exactly kept by parallel transport: second order in the deviation.
    for (const swings of [ballistic(0.9, 0.07), ballistic(0.9, 0.05, 0.05)]) {
      const { ratio } = nullOf(swings);
      expect(Math.abs(ratio - 1)).toBeLessThan(0.03);
    }
  });

  it('predicts it also near the straight arm, where the gradient vanishes', () => {
    const swings = ballistic(0, 0.07);
    const { spreadM, ratio } = nullOf(swings);
    expect(Math.hypot(...gradient(turnsAt(1, 0)))).toBeLessThan(1e-12);
    // Without any control reach narrows to a tenth.
    const { funnel } = reachInPercent(swings);
    expect(funnel.spreadM[100]! / funnel.spreadM[50]!).toBeLessThan(0.15);
    expect(spreadM[100]! / spreadM[50]!).toBeLessThan(0.15);
    expect(Math.abs(ratio - 1)).toBeLessThan(0.1);
  });

  it('falls short of it when the deviation is taken back before contact', () => {
    const swings = Array.from({ length: 12 }, (_, i) =>
      swingFromDirections((s) =>
        turnsAt(s, 0.9).map((turn, k) => {
          const kept = 1 - 0.7 * Math.max(0, 2 * s - 1);
          const a = turn + 0.06 * kept * UNCORRELATED[k]![i]!;
          return [Math.cos(a), Math.sin(a), 0] as const;
        }),
      ),
    );
    // 0.3 of the deviation is left.
    expect(Math.abs(nullOf(swings).ratio - 0.3)).toBeLessThan(0.02);
  });

  it('has no answer when the directions do not differ', () => {
    const swings = ballistic(0.9, 0);
    expect(geometryNull(swings, reachInPercent(swings), fitSwingTiming(swings))).toEqual({
      reason: 'no-spread',
    });
  });
});
