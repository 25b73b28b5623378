import { expect, test } from 'vitest';
import { landingError } from '../../src/core/measures/landing-error.ts';
import { answered, expectNear, ROUNDING } from '../statistics/answers.ts';

const swings = (points: readonly (readonly [number, number] | null)[]) =>
  points.map((landingM) => ({ landingM }));

test('four balls about a point two metres too far, by hand', () => {
  const found = answered(landingError(swings([[1, 0], [3, 0], null, [2, 1], [2, -1]])));
  expect(found.n).toBe(4);
  expect(answered(found.beyond.constantM).value).toBe(2);
  expect(answered(found.left.constantM).value).toBe(0);
  expect(answered(found.beyond.absoluteM).value).toBe(2);
  expect(answered(found.left.absoluteM).value).toBe(0.5);
  expectNear(answered(found.beyond.variableM).value, Math.sqrt(2 / 3), ROUNDING);
  expectNear(answered(found.radialM).value, (1 + 3 + 2 * Math.sqrt(5)) / 4, ROUNDING);
  // Hancock et al. divide by n: 1 metre.
  expectNear(answered(found.bivariateVariableM).value * Math.sqrt(3 / 4), 1, ROUNDING);
});

test('mean squared distance is that of the mean point plus the scatter about it', () => {
  const points = [
    [0.3, -1],
    [1.2, 0.4],
    [-0.5, 0.2],
    [0.1, 2],
    [0.8, -0.3],
  ] as const;
  const { beyond, left, bivariateVariableM } = answered(landingError(swings(points)));
  const constant = answered(beyond.constantM).value ** 2 + answered(left.constantM).value ** 2;
  const scatter = (answered(bivariateVariableM).value ** 2 * 4) / 5;
  const meanSquare = points.reduce((sum, [x, y]) => sum + (x * x + y * y) / 5, 0);
  expectNear(constant + scatter, meanSquare, ROUNDING);
});

test('what cannot be said is named', () => {
  expect(landingError([])).toEqual({ reason: 'too-few', need: 2, have: 0 });
  expect(landingError(swings([null, [1, 1]]))).toEqual({ reason: 'too-few', need: 2, have: 1 });
  const two = answered(
    landingError(
      swings([
        [1, 1],
        [2, 1],
      ]),
    ),
  );
  expect(two.bivariateVariableM).toEqual({ reason: 'too-few', need: 3, have: 2 });
  expect(two.left.variableM).toEqual({ reason: 'too-few', need: 3, have: 2 });
  const alike = answered(
    landingError(
      swings([
        [1, 1],
        [1, 1],
        [1, 1],
      ]),
    ),
  );
  expect(alike.radialM).toEqual({ reason: 'no-spread' });
  expect(alike.bivariateVariableM).toEqual({ reason: 'no-spread' });
  expect(alike.beyond.constantM).toEqual({ reason: 'no-spread' });
});
