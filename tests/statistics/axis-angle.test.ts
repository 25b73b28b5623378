import { expect, test } from 'vitest';
import { RAD_PER_DEG } from '../../src/core/maths/angles.ts';
import { seededRandom } from '../../src/core/maths/random.ts';
import { axisAngle, crossedAxesTest } from '../../src/core/statistics/axis-angle.ts';
import {
  angleBetweenAxes,
  covarianceEllipse,
} from '../../src/core/statistics/covariance-ellipse.ts';
import { answered, expectNear, ROUNDING } from './answers.ts';

const OPTIONS = { seed: 4, resamples: 500 };

/** Groups of points, long by so much in a direction (degrees), about different middles. */
function groups(n: number, ...shapes: readonly (readonly [long: number, directionDeg: number])[]) {
  const random = seededRandom(8);
  const x: number[] = [];
  const y: number[] = [];
  for (const [g, [long, directionDeg]] of shapes.entries())
    for (let i = 0; i < n; i++) {
      const [u, v] = [random.normal(long), random.normal(1)];
      const [c, s] = [Math.cos(directionDeg * RAD_PER_DEG), Math.sin(directionDeg * RAD_PER_DEG)];
      x.push(5 * g + c * u - s * v);
      y.push(-7 * g + s * u + c * v);
    }
  return { x, y };
}

test('the angle is that between the axes of the covariance ellipses', () => {
  const points = groups(20, [3, 30], [4, -75]);
  const [a, b] = [0, 20].map((from) =>
    answered(covarianceEllipse(points.x.slice(from, from + 20), points.y.slice(from, from + 20))),
  );
  const answer = answered(axisAngle(points, [20, 20], OPTIONS));
  expectNear(answer.value, answered(angleBetweenAxes(a!, b!)), ROUNDING);
  expect(answer.low).toBeLessThan(75 * RAD_PER_DEG);
  expect(answer.high).toBe(Math.PI / 2);
  expect(answer.n).toBe(40);
  const first = { x: points.x.slice(0, 20), y: points.y.slice(0, 20) };
  const toward = answered(axisAngle(first, [20], OPTIONS, 100 * RAD_PER_DEG));
  const own = answered(a!.angleRad);
  expectNear(toward.value, 100 * RAD_PER_DEG - own, ROUNDING);
  // The other end of the same axis.
  expectNear(
    answered(axisAngle(first, [20], OPTIONS, -80 * RAD_PER_DEG)).value,
    toward.value,
    1e-9,
  );
});

test('axes 178 and 2 degrees from the x axis are 4 degrees apart', () => {
  const { value, low, high } = answered(
    axisAngle(groups(400, [9, 178], [9, 2]), [400, 400], OPTIONS),
  );
  expect(Math.abs(value - 4 * RAD_PER_DEG)).toBeLessThan(1.5 * RAD_PER_DEG);
  expect(low).toBeLessThan(4 * RAD_PER_DEG);
  expect(high).toBeLessThan(6 * RAD_PER_DEG);
});

test('a round cloud leaves almost all angles open', () => {
  const { low, high } = answered(axisAngle(groups(15, [1, 0], [1, 90]), [15, 15], OPTIONS));
  expect(high - low).toBeGreaterThan(70 * RAD_PER_DEG);
});

test('long clouds across each other are told from parallel ones', () => {
  const p = (points: ReturnType<typeof groups>) =>
    answered(crossedAxesTest(points, [20, 20], { seed: 2, draws: 999 })).p;
  expect(p(groups(20, [4, 10], [4, 100]))).toBe(0.001);
  expect(p(groups(20, [4, 10], [4, 15]))).toBe(1);
});

test('what has no axis is named', () => {
  const few = { reason: 'too-few', need: 10, have: 9 };
  expect(axisAngle(groups(9, [1, 0]), [9], OPTIONS)).toEqual(few);
  expect(crossedAxesTest(groups(9, [1, 0], [2, 0]), [9, 9], OPTIONS)).toEqual(few);
  const one = { x: new Float64Array(24), y: new Float64Array(24).fill(2) };
  expect(axisAngle(one, [12, 12], OPTIONS)).toEqual({ reason: 'no-spread' });
  expect(crossedAxesTest(one, [12, 12], OPTIONS)).toEqual({ reason: 'no-spread' });
});
