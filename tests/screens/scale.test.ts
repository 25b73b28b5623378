import { describe, expect, test } from 'vitest';
import {
  extentOf,
  linearScale,
  roundRange,
  ticksBetween,
} from '../../src/screens/pictures/scale.ts';

// Values by hand.
describe('linearScale', () => {
  test('puts data on pixels, also where pixels fall, and back', () => {
    const y = linearScale([-1, 1], [200, 100]);
    expect([y(-1), y(0), y(1), y(0.5)]).toEqual([200, 150, 100, 125]);
    expect(y.invert(125)).toBe(0.5);
  });
});

describe('ticksBetween', () => {
  test.each([
    [0, 10, 5, [0, 2, 4, 6, 8, 10]],
    [0, 1, 4, [0, 0.5, 1]],
    [0, 0.7, 7, [0, 0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7]],
    [-35, 12, 5, [-30, -20, -10, 0, 10]],
    [78.2, 84.9, 4, [80, 82, 84]],
    [1200, 5200, 4, [2000, 3000, 4000, 5000]],
  ])('%f to %f in at most %i steps', (low, high, atMost, ticks) => {
    expect(ticksBetween(low, high, atMost)).toEqual(ticks);
  });
});

describe('roundRange', () => {
  test.each([
    [0, 4.3, 4, [0, 6]],
    [79.4, 83.4, 6, [79, 84]],
    [0, 5, 5, [0, 5]],
    [2, 2, 4, [1, 3]],
  ])('%f to %f in at most %i steps', (low, high, atMost, range) => {
    expect(roundRange(low, high, atMost)).toEqual(range);
  });
});

test('extentOf leaves out what is no number, and says what it was told when nothing is left', () => {
  expect(extentOf([3, Number.NaN, -1, Infinity], [0, 1])).toEqual([-1, 3]);
  expect(extentOf([Number.NaN], [0, 1])).toEqual([0, 1]);
});
