import { type BootstrapOptions, quantileOfSorted } from './bootstrap-interval.ts';
import {
  CONFIDENCE,
  checkLevel,
  type Estimate,
  isUnavailable,
  type Unavailable,
} from './estimate.ts';
import { checkedMean } from './moments.ts';
import {
  type PermutationOptions,
  type PermutationResult,
  permutationTest,
} from './permutation-test.ts';
import { bootstrapReplications, type RowStatistic, rowsByGroup } from './resampling.ts';

/** Points of a plane, two columns of equal length. */
export interface PlanePoints {
  readonly x: ArrayLike<number>;
  readonly y: ArrayLike<number>;
}

/** Rows below which a major axis gets no interval. */
const LEAST_AXIS_POINTS = 10;
const RESAMPLES = 2000;

/**
 * Doubled direction of the major axis of some points: a vector at twice the axis's angle, of length
 * (l1 - l2)/(l1 + l2), l the variances along the axes. 1 is a line, 0 a round cloud. Doubling makes the two
 * ends of an axis one direction.
 */
interface DoubledAxis {
  readonly cosine: number;
  readonly sine: number;
}

/**
 * Angle between the major axes of two independent groups of points, or of one group and a fixed direction.
 * Axes have no head: angles are taken modulo 180 degrees. The interval is as wide as 95 % of the bootstrap's
 * axes stray from the sample's own, to either side; it is held within 0 and 90 degrees, and is all of that for a
 * round cloud.
 * @param groupSizes rows of the one or two groups, at least ten each @param directionRad for one group only
 * @returns radians in [0, pi/2]
 * Source: bootstrap of axes, symmetric about the estimate: Fisher 1993, Statistical Analysis of Circular Data,
 *   section 4.4 (from memory).
 * Checked: tests/statistics/axis-angle.test.ts; coverage in tests/measures/accuracy-split-operating.test.ts
 */
export function axisAngle(
  points: PlanePoints,
  groupSizes: readonly [number, number] | readonly [number],
  options: BootstrapOptions,
  directionRad = 0,
): Estimate | Unavailable {
  const { seed, resamples = RESAMPLES, level = CONFIDENCE } = options;
  checkLevel(level);
  const have = Math.min(...groupSizes);
  if (have < LEAST_AXIS_POINTS) return { reason: 'too-few', need: LEAST_AXIS_POINTS, have };
  const turn: RowStatistic = (a, b) => {
    const first = doubledAxis(points, a!);
    const second = b
      ? doubledAxis(points, b)
      : { cosine: Math.cos(2 * directionRad), sine: Math.sin(2 * directionRad) };
    if (!first || !second) return { reason: 'no-spread' };
    return doubledTurn(first, second);
  };
  const whole = turn(...rowsByGroup(groupSizes));
  if (isUnavailable(whole)) return whole;
  const { values } = bootstrapReplications(groupSizes, turn, resamples, seed);
  const strays = values
    .map((other) => {
      const off = Math.abs(other - whole);
      return Math.min(off, 2 * Math.PI - off) / 2;
    })
    .sort();
  const half = quantileOfSorted(strays, level);
  const value = Math.abs(whole) / 2;
  return {
    value,
    low: Math.max(0, value - half),
    high: Math.min(Math.PI / 2, value + half),
    level,
    n: groupSizes.reduce((sum, size) => sum + size, 0),
  };
}

/**
 * Permutation test that two groups of points spread across each other: long the one way where the other is
 * long the other way. Statistic: minus the scalar product of the doubled axes, 1 for two lines at right
 * angles, 0 or less (and p = 1) when the axes are nearer to parallel. Round clouds and different sizes of the
 * clouds do not make it large. Each group is centred first: a difference of means is none of direction.
 * @param groupSizes rows of both groups, at least ten each
 * Source: doubled axes: Mardia & Jupp, Directional Statistics, section 9.4 (from memory); see permutationTest.
 * Checked: tests/statistics/axis-angle.test.ts; size and power in tests/measures/accuracy-split-operating.test.ts
 */
export function crossedAxesTest(
  points: PlanePoints,
  [sizeA, sizeB]: readonly [number, number],
  options: PermutationOptions,
): PermutationResult | Unavailable {
  const have = Math.min(sizeA, sizeB);
  if (have < LEAST_AXIS_POINTS) return { reason: 'too-few', need: LEAST_AXIS_POINTS, have };
  const centred = { x: centredGroups(points.x, sizeA), y: centredGroups(points.y, sizeA) };
  return permutationTest(
    sizeA,
    sizeB,
    (a, b) => {
      const first = doubledAxis(centred, a!);
      const second = doubledAxis(centred, b!);
      if (!first || !second) return { reason: 'no-spread' };
      return Math.max(0, -first.cosine * second.cosine - first.sine * second.sine);
    },
    options,
  );
}

function doubledAxis({ x, y }: PlanePoints, rows: Int32Array): DoubledAxis | null {
  let meanX = 0;
  let meanY = 0;
  for (const row of rows) {
    meanX += x[row]! / rows.length;
    meanY += y[row]! / rows.length;
  }
  let xx = 0;
  let yy = 0;
  let xy = 0;
  for (const row of rows) {
    const dx = x[row]! - meanX;
    const dy = y[row]! - meanY;
    xx += dx * dx;
    yy += dy * dy;
    xy += dx * dy;
  }
  const sum = xx + yy;
  return sum > 0 ? { cosine: (xx - yy) / sum, sine: (2 * xy) / sum } : null;
}

/** From the second to the first, doubled, in [-pi, pi]. */
function doubledTurn(a: DoubledAxis, b: DoubledAxis): number {
  return Math.atan2(a.sine * b.cosine - a.cosine * b.sine, a.cosine * b.cosine + a.sine * b.sine);
}

function centredGroups(values: ArrayLike<number>, sizeA: number): Float64Array {
  const all = Float64Array.from(values);
  const groups = [all.subarray(0, sizeA), all.subarray(sizeA)];
  for (const group of groups) {
    const mean = checkedMean(group);
    for (let i = 0; i < group.length; i++) group[i]! -= mean;
  }
  return all;
}
