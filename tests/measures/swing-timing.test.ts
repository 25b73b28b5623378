import { describe, expect, it } from 'vitest';
import {
  commonShare,
  courseReach,
  courseSegment,
  fitSwingTiming,
} from '../../src/core/measures/swing-timing.ts';
import { type DirectionsAt, level, swingFromDirections } from './swing-from-directions.ts';

/** An arm that opens while it turns, defined beyond both ends. */
const opening: DirectionsAt = (s) => [
  level(-0.8 * (1 - s)),
  level(0.5 - 2 * (1 - s) ** 2 - 0.3 * (1 - s)),
  level(0.2 - 2.6 * (1 - s) ** 2 - 0.4 * (1 - s)),
];

const SHIFTS = [0.01, -0.02, 0.015, 0, -0.005];
const LAGS = [0.06, 0.02, -0.05, -0.08, 0.05];

const jittered = SHIFTS.map((shift, i) =>
  swingFromDirections((s) => opening(s + shift + LAGS[i]! * (1 - s))),
);

describe('fitSwingTiming', () => {
  const timing = fitSwingTiming(jittered);

  it('recovers known shifts and lags to a fifth of a percent of the swing', () => {
    // The common course is the mean of all swings read at their own times; linear interpolation between the
    // 101 points and the straight ends beyond them leave 0.001 to 0.002.
    for (let i = 0; i < SHIFTS.length; i++) {
      expect(timing.shift[i]).toBeCloseTo(SHIFTS[i]!, 2.5);
      expect(Math.abs(timing.shift[i]! - SHIFTS[i]!)).toBeLessThan(0.002);
      expect(Math.abs(timing.lag[i]! - LAGS[i]!)).toBeLessThan(0.002);
    }
  });

  it('finds the course that all have in common', () => {
    const { reachCurveM, directions, lengthsM } = swingFromDirections(opening);
    for (const p of [10, 50, 90]) {
      expect(courseReach(timing.course, p / 100)).toBeCloseTo(reachCurveM[p]!, 3);
      const forearm = courseSegment(new Float64Array(3), timing.course, p / 100, 1);
      for (let axis = 0; axis < 3; axis++)
        expect(forearm[axis]! - lengthsM[1] * directions[9 * p + 3 + axis]!).toBeCloseTo(0, 2.5);
    }
    expect(commonShare(timing, 3, 0.5)).toBeCloseTo(0.5 - 0.04, 2);
  });

  it('finds no timing in swings that share it', () => {
    const alike = fitSwingTiming([jittered[0]!, jittered[0]!, jittered[0]!]);
    expect(Math.max(...alike.shift.map(Math.abs), ...alike.lag.map(Math.abs))).toBeLessThan(1e-9);
  });

  it('finds no timing in an arm that does not move', () => {
    const still = [0, 0.1, 0.2].map((a) =>
      swingFromDirections(() => [level(a), level(a), level(a)]),
    );
    const { shift, lag } = fitSwingTiming(still);
    expect([...shift, ...lag].every((x) => x === 0)).toBe(true);
  });
});
