import { describe, expect, test } from 'vitest';
import { bandPath, ellipsePoints, linePath, marksPath } from '../../src/screens/pictures/paths.ts';
import { stackParts } from '../../src/screens/pictures/stack.ts';

// Values by hand.
describe('linePath', () => {
  test('goes from point to point, rounded to a tenth of a pixel, and leaves a gap at NaN', () => {
    expect(linePath([0, 1, 2, 3], [5, 6.04, Number.NaN, 7.06])).toBe('M0 5L1 6M3 7.1');
  });
});

describe('bandPath', () => {
  test('goes along the upper curve and back along the lower one, each stretch by itself', () => {
    expect(bandPath([0, 1, 2, 3], [9, 8, Number.NaN, 7], [1, 2, 3, 4])).toBe(
      'M0 1L1 2L1 8L0 9ZM3 4L3 7Z',
    );
  });
});

describe('ellipsePoints', () => {
  test('begins at the end of the major half axis, turned, and closes', () => {
    const [x, y] = ellipsePoints([10, 20], [4, 1], Math.PI / 2);
    expect(x[0]).toBeCloseTo(10, 12);
    expect(y[0]).toBeCloseTo(24, 12);
    expect(x[18]).toBeCloseTo(9, 12);
    expect(y[18]).toBeCloseTo(20, 12);
    expect(x.at(-1)).toBeCloseTo(x[0]!, 9);
    expect(y.at(-1)).toBeCloseTo(y[0]!, 9);
  });
});

describe('marksPath', () => {
  test('draws one closed shape a point and none for NaN', () => {
    const path = marksPath('diamond', [1, Number.NaN, 3], [1, 2, 3], 10);
    expect(path.match(/M/g)).toHaveLength(2);
    expect(path.match(/Z/g)).toHaveLength(2);
  });

  test('a circle begins at its left end', () => {
    expect(marksPath('circle', [10], [20], 8)).toMatch(/^M6 20a4 4 0 1 0 8 0/);
  });
});

test('stackParts piles positive parts up and lets negative ones hang down', () => {
  expect(stackParts([0.7, -0.25, 0.55])).toEqual([
    { from: 0, to: 0.7 },
    { from: 0, to: -0.25 },
    { from: 0.7, to: 1.25 },
  ]);
});
