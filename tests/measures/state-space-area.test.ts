import { describe, expect, test } from 'vitest';
import { seededRandom } from '../../src/core/maths/random.ts';
import type { ArmAngles } from '../../src/core/measures/arm-angles.ts';
import { stateSpaceArea } from '../../src/core/measures/state-space-area.ts';
import { answered, expectNear } from '../statistics/answers.ts';
import { steadyAngles } from './hand-made-angles.ts';

const RAD = Math.PI / 180;
const CELL = (5 * RAD) ** 2;

/** Upper arm and forearm (degrees) at each point of each swing; the rest stays put. */
function moving(
  n: number,
  at: (swing: number, share: number) => readonly [number, number],
): ArmAngles {
  const columns = (k: 0 | 1) =>
    Array.from({ length: 101 }, (_, point) =>
      Float64Array.from({ length: n }, (_, i) => at(i, point / 100)[k] * RAD),
    );
  const still = Array.from({ length: n }, () => 0);
  return { ...steadyAngles(still, still, still), upperArm: columns(0), forearm: columns(1) };
}

describe('visited area', () => {
  test('is the cells of 5 degrees that a path goes through', () => {
    // 1 to 49 degrees: ten cells in a row, whatever the swing
    const angles = moving(10, (_, share) => [1 + 48 * share, 2]);
    const { visitedRad2 } = answered(stateSpaceArea(angles)).upperArmForearm;
    expectNear(answered(visitedRad2).value, 10 * CELL, 1e-12);
    expectNear(answered(visitedRad2).high, 10 * CELL, 1e-12);
  });

  test('a cell of one swing in ten is seen by four of them with probability 0.4', () => {
    // Hypergeometric: 1 - C(9, 4)/C(10, 4) = 1 - 126/210. Every swing has its own cell, and all share one.
    const angles = moving(10, (swing, share) => (share < 0.5 ? [1, 1] : [1, 11 + 5 * swing]));
    const { visitedRad2 } = answered(stateSpaceArea(angles)).upperArmForearm;
    expectNear(answered(visitedRad2).value, (1 + 10 * 0.4) * CELL, 1e-12);
  });

  test('does not grow with the number of swings', () => {
    // Rarefied areas of random swings have the same mean for every n. Fifty sets of ten swings have an SD of about 3 %
    // between means, four of them allowed; the area itself would grow by half.
    const random = seededRandom(4);
    const meanArea = (n: number) => {
      let sum = 0;
      for (let set = 0; set < 50; set++) {
        const aside = Array.from({ length: n }, () => random.normal(8));
        const angles = moving(n, (swing, share) => [1 + 40 * share, aside[swing]!]);
        sum += answered(answered(stateSpaceArea(angles)).upperArmForearm.visitedRad2).value;
      }
      return sum / 50;
    };
    expect(Math.abs(meanArea(40) / meanArea(10) - 1)).toBeLessThan(0.12);
  });
});

describe('ellipse', () => {
  test('of twelve swings spread evenly round a circle', () => {
    // Variances r^2/2 * 12/11, no covariance: area pi * 5.9914645471 * r^2 * 6/11, bias factor 11/10.
    const angle = (i: number) => (2 * Math.PI * i) / 12;
    const r = 3 * RAD;
    const angles = moving(12, (i) => [3 * Math.cos(angle(i)), 3 * Math.sin(angle(i))]);
    const { ellipseRad2 } = answered(stateSpaceArea(angles)).upperArmForearm;
    expect(ellipseRad2).toHaveLength(11);
    for (const answer of ellipseRad2)
      expectNear(
        answered(answer).value,
        ((Math.PI * 5.9914645471 * r * r * 6) / 11) * (11 / 10),
        1e-8,
      );
  });

  test('says why there is none', () => {
    const { elbowWrist } = answered(stateSpaceArea(moving(10, (i) => [i, 2 * i])));
    expect(elbowWrist.ellipseRad2[0]).toEqual({ reason: 'no-spread' });
    const { upperArmForearm } = answered(stateSpaceArea(moving(10, (i) => [i, 2 * i])));
    expect(upperArmForearm.ellipseRad2[0]).toEqual({ reason: 'collinear' });
    expect(stateSpaceArea(moving(9, () => [0, 0]))).toEqual({
      reason: 'too-few',
      need: 10,
      have: 9,
    });
  });
});
