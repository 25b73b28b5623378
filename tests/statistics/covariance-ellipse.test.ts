import { expect, test } from 'vitest';
import {
  angleBetweenAxes,
  covarianceEllipse,
  populationEllipse,
  predictionEllipse,
} from '../../src/core/statistics/covariance-ellipse.ts';
import { answered, expectNear, PRINTED } from './answers.ts';

// reference.md B7.
const X = [2, 3, 5, 6, 8, 9, 4, 7];
const Y = [1, 4, 4, 7, 6, 9, 2, 8];
const DEGREE = Math.PI / 180;

/** Four points with principal SDs 2 and 1 (times a constant), turned. */
function turned(degrees: number, scale = 1) {
  const [c, s] = [Math.cos(degrees * DEGREE), Math.sin(degrees * DEGREE)];
  const points = [
    [2, 0],
    [-2, 0],
    [0, 1],
    [0, -1],
  ].map(([u, v]) => [scale * (u! * c - v! * s), scale * (u! * s + v! * c)]);
  return answered(
    covarianceEllipse(
      points.map((p) => p[0]!),
      points.map((p) => p[1]!),
    ),
  );
}

test('axes, orientation and area of eight points', () => {
  const ellipse = answered(covarianceEllipse(X, Y));
  expect(ellipse).toMatchObject({ n: 8, centreX: 5.5, centreY: 5.125 });
  expectNear(ellipse.majorSd ** 2, 13.366962958, PRINTED);
  expectNear(ellipse.minorSd ** 2, 0.758037042001, PRINTED);
  expectNear(ellipse.angleRad, 49.851221405911 * DEGREE, PRINTED);
  const population = populationEllipse(ellipse, 0.95);
  expectNear(population.semiMajor, 8.949172289399, PRINTED);
  expectNear(population.semiMinor, 2.131138677455, PRINTED);
  expectNear(population.area, 59.91622637237, PRINTED);
  const prediction = predictionEllipse(ellipse, 0.95);
  expectNear(prediction.semiMajor, 13.4338335782, PRINTED);
  expectNear(prediction.semiMinor, 3.1991072916, PRINTED);
});

test.each([
  [10, 0.26318],
  [30, 0.0846],
  [100, 0.02509],
  [1000, 0.0025],
])('with %i points the population ellipse is too short by a known share', (n, short) => {
  const unit = { n, centreX: 0, centreY: 0, majorSd: 1, minorSd: 1, angleRad: 0 };
  const ratio = populationEllipse(unit, 0.95).semiMajor / predictionEllipse(unit, 0.95).semiMajor;
  // Published in percent with three decimals (BMClab notebook, after Chew 1966).
  expect(Math.abs(1 - ratio - short)).toBeLessThan(6e-6);
});

test.each([0, 30, 89, 90, -45])('orientation of a cloud turned by %i degrees', (degrees) => {
  const ellipse = turned(degrees);
  expectNear(ellipse.majorSd / ellipse.minorSd, 2, 1e-12);
  const angle = answered(ellipse.angleRad) / DEGREE;
  expect(Math.abs(Math.sin((angle - degrees) * DEGREE))).toBeLessThan(1e-12);
});

test('major axes are compared without head or tail', () => {
  expectNear(answered(angleBetweenAxes(turned(80), turned(-80))), 20 * DEGREE, 1e-12);
  expectNear(answered(angleBetweenAxes(turned(10), turned(100, 7))), 90 * DEGREE, 1e-12);
  expect(angleBetweenAxes(turned(25), turned(25))).toBe(0);
});

test('points on a line have a minor axis of length zero', () => {
  const x = [0.1, 0.2, 0.3, 0.7];
  const line = answered(
    covarianceEllipse(
      x,
      x.map((v) => 2 * v),
    ),
  );
  expect(line.minorSd).toBeLessThan(1e-8);
  expectNear(line.angleRad, Math.atan(2), 1e-12);
});

test('what has no ellipse or no direction is named', () => {
  const square = answered(covarianceEllipse([1, 1, -1, -1], [1, -1, 1, -1]));
  expect(square.angleRad).toEqual({ reason: 'no-direction' });
  expect(angleBetweenAxes(square, turned(0))).toEqual({ reason: 'no-direction' });
  expect(covarianceEllipse([1, 2], [1, 2])).toEqual({ reason: 'too-few', need: 3, have: 2 });
  expect(covarianceEllipse([3, 3, 3], [1, 1, 1])).toEqual({ reason: 'no-spread' });
  expect(covarianceEllipse([1, Number.NaN, 3], [1, 2, 3])).toEqual({
    reason: 'not-finite',
    index: 1,
  });
  expect(() => populationEllipse(square, 95)).toThrow(RangeError);
});
