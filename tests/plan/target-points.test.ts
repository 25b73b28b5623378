import { describe, expect, it } from 'vitest';
import { targetPoints } from '../../src/core/plan/target-points.ts';

const STEPS = [10, 8, 6, 4, 2, 0];
/** Two metres wide, one deep, a step every half metre. */
const target = { widthM: 2, depthM: 1, stepM: 0.5 };

describe('targetPoints', () => {
  // By hand: the box reaches 0.5 m beyond and short of its middle, 1 m to either side.
  it.each([
    ['the middle', 0, 0, 10],
    ['a corner of the box', 0.5, 1, 10],
    ['just beyond', 0.51, 0, 8],
    ['half a metre beyond the edge, the first step begun and ended', 1, 0, 8],
    ['a little further', 1.01, 0, 6],
    ['half a metre short', -1, 0, 8],
    ['to the right, 1.2 m off the edge: three steps begun', 0, -2.2, 4],
    ['0.3 m beyond and 0.4 m left of a corner: 0.5 m off it', 0.8, 1.4, 8],
    ['0.6 m and 0.8 m off a corner: 1 m off it', 1.1, -1.8, 6],
    ['2.4 m off: the last step', 2.9, 0, 0],
    ['in the next court', 30, 5, 0],
  ])('%s', (_where, beyondM, leftM, points) => {
    expect(targetPoints({ beyondM, leftM }, target, STEPS)).toBe(points);
  });

  it('counts a line for the better side in spite of binary fractions', () => {
    // 0.05 + 0.3 less 0.05 is a little more than three steps of 0.1 in binary.
    const small = { widthM: 0.1, depthM: 0.1, stepM: 0.1 };
    expect(targetPoints({ beyondM: 0.05 + 0.3, leftM: 0 }, small, STEPS)).toBe(4);
  });

  it('refuses a landing nobody knows, a target without a step, and no points', () => {
    expect(() => targetPoints({ beyondM: Number.NaN, leftM: 0 }, target, STEPS)).toThrow('NaN');
    expect(() => targetPoints({ beyondM: 0, leftM: 0 }, { ...target, stepM: 0 }, STEPS)).toThrow(
      RangeError,
    );
    expect(() => targetPoints({ beyondM: 0, leftM: 0 }, target, [])).toThrow('no score steps');
  });
});
