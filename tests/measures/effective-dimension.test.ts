import { describe, expect, test } from 'vitest';
import { seededRandom } from '../../src/core/maths/random.ts';
import { armAngles } from '../../src/core/measures/arm-angles.ts';
import { effectiveDimension } from '../../src/core/measures/effective-dimension.ts';
import { answered } from '../statistics/answers.ts';
import { DISTAL_COUPLED } from './arm-players.ts';
import { trueCovariance, trueJointCovariance } from './arm-truth.ts';
import { steadyAngles } from './hand-made-angles.ts';
import { swingsOf } from './virtual-arms.ts';

const random = seededRandom(11);
const normals = (n: number, sd: number) => Array.from({ length: n }, () => random.normal(sd));

/** (tr C)^2 / tr C^2. */
function participation(c: readonly (readonly number[])[]): number {
  const trace = c.reduce((sum, row, i) => sum + row[i]!, 0);
  return trace ** 2 / c.flat().reduce((sum, x) => sum + x * x, 0);
}

describe('effectiveDimension', () => {
  test('of an arm that only turns as a whole is 1, and its joints have none', () => {
    const turn = normals(20, 0.05);
    const { n, segments, joints } = answered(effectiveDimension(steadyAngles(turn, turn, turn)));
    expect(n).toBe(20);
    expect(segments).toHaveLength(11);
    for (const answer of segments) {
      // 1 without sampling error; the bias correction gives a little less or more
      expect(answered(answer).value).toBeLessThan(1.05);
      expect(answered(answer).low).toBe(1);
    }
    expect(joints[10]).toEqual({ reason: 'no-spread' });
  });

  test('of three segments that vary alike and independently is near 3 and never above', () => {
    const angles = steadyAngles(normals(40, 0.05), normals(40, 0.05), normals(40, 0.05));
    for (const answer of answered(effectiveDimension(angles)).segments) {
      const { value, low, high } = answered(answer);
      expect(value).toBeGreaterThan(2.5);
      expect(value).toBeLessThanOrEqual(3);
      expect(low).toBeLessThan(value);
      expect(high).toBeLessThanOrEqual(3);
    }
  });

  test('of joints with variances 4 to 1 is 25/17', () => {
    // Elbow and wrist independent, SDs 0.2 and 0.1: (4 + 1)^2 / (16 + 1).
    const forearm = normals(400, 0.2);
    const implement = forearm.map((x) => x + random.normal(0.1));
    const still = forearm.map(() => 0);
    const { joints } = answered(effectiveDimension(steadyAngles(still, forearm, implement)));
    const { value, low, high } = answered(joints[0]!);
    expect(low).toBeLessThan(25 / 17);
    expect(high).toBeGreaterThan(25 / 17);
    expect(Math.abs(value - 25 / 17)).toBeLessThan(0.15);
  });

  // Over four players and n = 10, 20, 40 intervals held the truth in 89 to 98 % of 300 sets; the standard error of 120
  // is 2.7 % at 90.
  test('has intervals that hold the truth of a virtual player', () => {
    const [sets, contact] = [120, 10];
    const covariances = [trueCovariance(DISTAL_COUPLED, 1), trueJointCovariance(DISTAL_COUPLED, 1)];
    const held = [0, 0];
    for (let set = 0; set < sets; set++) {
      const angles = answered(armAngles(swingsOf(DISTAL_COUPLED, 15, 5000 + set)));
      const found = answered(effectiveDimension(angles));
      for (const [k, answers] of [found.segments, found.joints].entries()) {
        const { low, high } = answered(answers[contact]!);
        const truth = participation(covariances[k]!);
        if (low <= truth && truth <= high) held[k]!++;
      }
    }
    for (const count of held) expect(count / sets).toBeGreaterThan(0.87);
  });

  test('needs ten swings that differ', () => {
    const still = Array.from({ length: 10 }, () => 1);
    const { segments } = answered(effectiveDimension(steadyAngles(still, still, still)));
    expect(segments[0]).toEqual({ reason: 'no-spread' });
    const nine = still.slice(1);
    expect(effectiveDimension(steadyAngles(nine, nine, nine))).toEqual({
      reason: 'too-few',
      need: 10,
      have: 9,
    });
  });
});
