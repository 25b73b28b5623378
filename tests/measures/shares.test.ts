import { describe, expect, test } from 'vitest';
import { findHandOver } from '../../src/core/measures/hand-over.ts';
import type { MeasuredSwing } from '../../src/core/measures/measured-swing.ts';
import { shares } from '../../src/core/measures/shares.ts';
import { isUnavailable } from '../../src/core/statistics/estimate.ts';
import { checkedCovariance } from '../../src/core/statistics/moments.ts';
import { answered } from '../statistics/answers.ts';
import { DISTAL_COUPLED } from './arm-players.ts';
import { PLANAR_JACOBIANS, PLANAR_LENGTHS_M, PLANAR_SEGMENTS } from './planar-arm.ts';
import { level, swingFromDirections } from './swing-from-directions.ts';
import { swingsOf } from './virtual-arms.ts';

const OPTIONS = { seed: 3, resamples: 200 };
/** Ten trials of three segment angles, rad (reference.md C2). */
const SEGMENTS = Array.from(PLANAR_SEGMENTS[0]!, (_, trial) =>
  PLANAR_SEGMENTS.map((column) => column[trial]!),
);

/** An arm that holds these segment angles (rad) through the whole swing. */
function held(angles: readonly number[]): MeasuredSwing {
  return swingFromDirections(() => angles.map(level), { lengthsM: PLANAR_LENGTHS_M });
}

/** d reach/d angle of each segment: -L_k sin(theta_k - direction of the tip). */
function slopesOf(angles: readonly number[]): number[] {
  const part = (f: (angle: number) => number) =>
    angles.reduce((sum, angle, k) => sum + PLANAR_LENGTHS_M[k]! * f(angle), 0);
  const tip = Math.atan2(part(Math.sin), part(Math.cos));
  return angles.map((angle, k) => -PLANAR_LENGTHS_M[k]! * Math.sin(angle - tip));
}

describe('shares of the planar arm of reference.md C2', () => {
  const measured = answered(shares(SEGMENTS.map(held), OPTIONS));
  /** d reach/d segment angle at the mean angles, [C] of reference.md C2 case D. */
  const gradient = PLANAR_JACOBIANS.segmentsToReach[0];
  const column = (k: number) => SEGMENTS.map((row) => gradient[k]! * row[k]!);
  const sum = SEGMENTS.map((row) =>
    row.reduce((total, angle, k) => total + gradient[k]! * angle, 0),
  );
  // The mean direction is not quite the direction of the mean angle: with spreads of 2 to 3 degrees they differ by
  // 0.1 % of a spread.
  const NEAR = 2e-3;

  test('the linear sum has the variance printed there', () => {
    expect(checkedCovariance(sum, sum)).toBeCloseTo(4.21984653686e-5, 12);
  });

  test('signed shares are cov(J_k theta_k, sum)/var(sum), own shares var_k/sum of var', () => {
    const total = [0, 1, 2].reduce((all, k) => all + checkedCovariance(column(k), column(k)), 0);
    for (const stretch of [...measured.bins, measured.wholeSwing])
      for (let k = 0; k < 3; k++) {
        const signed = checkedCovariance(column(k), sum) / checkedCovariance(sum, sum);
        expect(Math.abs(answered(stretch.signed[k]!).value - signed)).toBeLessThan(NEAR);
        const own = checkedCovariance(column(k), column(k)) / total;
        expect(Math.abs(answered(stretch.own[k]!).value - own)).toBeLessThan(NEAR);
      }
  });

  test('what the linear sum leaves of the reach printed there', () => {
    const reach = [
      0.9492659499, 0.9590093282, 0.9358825636, 0.9575296425, 0.9456923145, 0.953523828,
      0.9477576112, 0.948870038, 0.9463710862, 0.9506844467,
    ];
    const rest = reach.map((r, i) => r - sum[i]!);
    const residual = checkedCovariance(rest, rest) / checkedCovariance(reach, reach);
    expect(Math.abs(answered(measured.wholeSwing.residual) - residual)).toBeLessThan(NEAR);
  });

  test('a posture that is held has no hand-over, in any resample', () => {
    // rounding apart: the shares of all bins are the same numbers added in the same order
    expect(isUnavailable(measured.handOver)).toBe(true);
  });
});

describe('shares', () => {
  test('add up to 1, and what the upper arm leaves is distal', () => {
    const { n, bins, wholeSwing } = answered(shares(swingsOf(DISTAL_COUPLED, 25, 1), OPTIONS));
    expect(n).toBe(25);
    for (const { signed, own, distal, distalOwn } of [...bins, wholeSwing]) {
      const values = signed.map((share) => answered(share).value);
      expect(values[0]! + values[1]! + values[2]!).toBeCloseTo(1, 12);
      expect(answered(distal).value).toBeCloseTo(values[1]! + values[2]!, 12);
      expect(answered(distal).low).toBeCloseTo(1 - answered(signed[0]).high, 12);
      expect(answered(distalOwn).value).toBeCloseTo(
        answered(own[1]).value + answered(own[2]).value,
        12,
      );
    }
  });

  test('a segment that makes up for another has a negative share', () => {
    // The forearm (bent 40 degrees one way) undoes half of what the upper arm does; the implement holds still.
    const [a, b, c] = [0.5, -0.4, 0] as const;
    const slope = slopesOf([a, b, c]);
    const swings = Array.from({ length: 12 }, (_, i) => {
      const d = 0.001 * (i - 5.5);
      return held([a + d, b - (d * slope[0]!) / slope[1]! / 2, c]);
    });
    const { wholeSwing } = answered(shares(swings, OPTIONS));
    // Contributions 1, -1/2, 0 to a sum of 1/2; one line, so that only the turning gradient widens the interval.
    for (const [k, expected] of [2, -1].entries())
      expect(answered(wholeSwing.signed[k]!).value).toBeCloseTo(expected, 6);
    expect(answered(wholeSwing.distal).high).toBeLessThan(-0.9);
  });

  test("a turn of the whole arm leaves reach alone, and is nobody's", () => {
    const swings = Array.from({ length: 12 }, (_, i) => {
      const turn = 0.01 * (i - 5.5);
      return held([0.5 + turn, -0.4 + turn, 0.1 + turn]);
    });
    const { wholeSwing } = answered(shares(swings, OPTIONS));
    expect(wholeSwing.signed[0]).toEqual({ reason: 'no-spread' });
    // What each does by itself goes with its gradient: J_k^2 over the sum of squares.
    const slopes = slopesOf([0.5, -0.4, 0.1]);
    const squares = slopes.reduce((sum, slope) => sum + slope * slope, 0);
    for (let k = 0; k < 3; k++)
      expect(answered(wholeSwing.own[k]!).value).toBeCloseTo(slopes[k]! ** 2 / squares, 6);
    expect(wholeSwing.residual).toEqual({ reason: 'no-spread' });
  });

  test('the linear sum leaves all of the spread at a straight arm, and less where the arm is bent', () => {
    const turns = Array.from({ length: 12 }, (_, i) => 0.06 * (i - 5.5));
    const residualAt = ([a, b, c]: readonly [number, number, number]) =>
      answered(
        answered(
          shares(
            turns.map((turn) => held([a + turn, b, c])),
            OPTIONS,
          ),
        ).wholeSwing.residual,
      );
    // Straight, reach is longest: its slope is 0, and all that it varies is of second order.
    expect(residualAt([0.3, 0.3, 0.3])).toBeCloseTo(1, 9);
    // Bent, forearm and implement in line: two sides of a triangle, law of cosines.
    const [a, b] = [0.9, 0.1] as const;
    const [upper, rest] = [PLANAR_LENGTHS_M[0]!, PLANAR_LENGTHS_M[1]! + PLANAR_LENGTHS_M[2]!];
    const reach = turns.map((turn) =>
      Math.sqrt(upper ** 2 + rest ** 2 + 2 * upper * rest * Math.cos(a + turn - b)),
    );
    const slope = slopesOf([a, b, b])[0]!;
    const left = reach.map((r, i) => r - slope * turns[i]!);
    const expected = checkedCovariance(left, left) / checkedCovariance(reach, reach);
    expect(expected).toBeGreaterThan(0.01);
    expect(residualAt([a, b, b])).toBeCloseTo(expected, 6);
  });

  test('says why there are none', () => {
    const swing = held([0.5, -0.4, 0]);
    const ten = Array.from({ length: 10 }, () => swing);
    expect(shares([], OPTIONS)).toEqual({ reason: 'too-few', need: 10, have: 0 });
    expect(shares(ten.slice(1), OPTIONS)).toEqual({ reason: 'too-few', need: 10, have: 9 });
    const alike = answered(shares(ten, OPTIONS));
    expect(alike.wholeSwing.distal).toEqual({ reason: 'no-spread' });
    expect(alike.handOver).toEqual({ reason: 'no-spread' });
    const broken = { ...swing, directions: swing.directions.map((x, i) => (i === 7 ? NaN : x)) };
    expect(shares([...ten, broken], OPTIONS)).toEqual({ reason: 'not-finite', index: 10 });
  });
});

describe('findHandOver', () => {
  /** Own-variance shares by bin; the first seven do not matter. */
  const bins = (...last: number[][]) => [...Array(7).fill([1, 0, 0]), ...last].flat();

  test('finds the largest jump within the last 30 %', () => {
    const own = bins([0.8, 0.1, 0.1], [0.7, 0.1, 0.2], [0.2, 0.15, 0.65]);
    const found = findHandOver(own)!;
    expect(found).toMatchObject({ segment: 0, atPercent: 90 });
    expect(found.change).toBeCloseTo(-0.5, 12);
  });

  test('leaves out the step into the last 30 %', () => {
    const found = findHandOver(bins([0, 0.5, 0.5], [0, 0.45, 0.55], [0, 0.44, 0.56]))!;
    expect(found.atPercent).toBe(80);
    expect(Math.abs(found.change)).toBeCloseTo(0.05, 12);
  });

  test('has none where a bin has no shares', () => {
    expect(findHandOver(bins([1, 0, 0], [NaN, NaN, NaN], [0, 0, 1]))).toBeNull();
  });
});
