import { describe, expect, test } from 'vitest';
import type { SwingTrace } from '../../src/core/pipeline/swing-trace.ts';
import { armPoints, rowsBetween } from '../../src/screens/reading/arm-points.ts';
import { channelsOf } from '../../src/screens/reading/trace-channels.ts';

const HALF = Math.SQRT1_2;
/** Upper arm hangs, forearm points at the target, implement halfway up and left. */
const DIRECTIONS = [0, 0, -1, 1, 0, 0, 0, HALF, HALF];
const ROWS = 4;

const trace: SwingTrace = {
  index: 0,
  firstUs: 1_000_000,
  stepUs: 5000,
  directions: DIRECTIONS.map((x) => new Float64Array(ROWS).fill(x)),
  reachM: Float64Array.of(0.7, 0.75, 0.8, 0.85),
  noiseM: new Float64Array(ROWS),
  turnRateRadS: [1, 2, Math.PI].map((rate) => new Float64Array(ROWS).fill(rate)),
  lengthsM: [0.3, 0.25, 0.5],
  courtHeadingKnown: true,
  found: { startUs: 1_003_000, contactUs: 1_022_000 },
  ends: { startUs: 1_003_000, contactUs: 1_011_000 },
  range: { firstUs: 1_000_000, lastUs: 1_030_000 },
};

// Values by hand.
describe('channelsOf', () => {
  const value = (label: string) =>
    channelsOf(trace)
      .find((channel) => channel.label === label)!
      .lines.map(({ values }) => values[1]!);

  test('gives reach in cm, and turning speed in degrees per second', () => {
    expect(value('reach')).toEqual([75]);
    expect(value('turning')[2]).toBeCloseTo(180, 10);
  });

  test('gives each segment its angle above level and each joint its bend, in degrees', () => {
    const [upperArm, forearm, implement] = value('elevation');
    expect(upperArm).toBeCloseTo(-90, 10);
    expect(forearm).toBeCloseTo(0, 10);
    expect(implement).toBeCloseTo(45, 10);
    const [elbow, wrist] = value('joints');
    expect(elbow).toBeCloseTo(90, 10);
    expect(wrist).toBeCloseTo(90, 10);
  });
});

test('armPoints strings the segments together from the shoulder', () => {
  const points = armPoints(trace, 2);
  expect(points[0]).toEqual([0, 0, 0]);
  expect(points[1]).toEqual([0, 0, -0.3]);
  expect(points[2]).toEqual([0.25, 0, -0.3]);
  expect(points[3]![1]).toBeCloseTo(0.5 * HALF, 12);
  expect(points[3]![2]).toBeCloseTo(0.5 * HALF - 0.3, 12);
});

test('rowsBetween are those at or after the start and at or before contact', () => {
  expect(rowsBetween(trace)).toEqual([1, 2]);
  // Contact lies beyond the last clean row: the last row there is.
  expect(rowsBetween({ ...trace, ends: trace.found })).toEqual([1, 3]);
});
