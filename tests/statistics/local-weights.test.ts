import { expect, test } from 'vitest';
import { seededRandom } from '../../src/core/maths/random.ts';
import { localWeights } from '../../src/core/statistics/local-weights.ts';

const random = seededRandom(3);
const x = Float64Array.from({ length: 23 }, () => random.normal(1));
const at = Float64Array.of(-1.2, -0.4, 0, 0.3, 1.1);

const curve = (weights: Float64Array, column: Float64Array) =>
  Array.from(at, (_, place) =>
    column.reduce((sum, value, i) => sum + weights[place * x.length + i]! * value, 0),
  );

// Five places, all of them neighbours: those at -2 and 2 lie a bandwidth away and have no weight, those at -1 and 1
// the tricube weight (1 - 1/8)^3.
test('by hand: a line weighs by the kernel, a parabola goes through three points', () => {
  const five = [-2, -1, 0, 1, 2];
  const tricube = (7 / 8) ** 3;
  const line = localWeights(five, [0], { span: 1, degree: 1 })!;
  const expected = [0, tricube, 1, tricube, 0].map((w) => w / (1 + 2 * tricube));
  for (const [i, weight] of line.entries()) expect(weight).toBeCloseTo(expected[i]!, 14);
  const parabola = localWeights(five, [0], { span: 1, degree: 2 })!;
  for (const [i, weight] of parabola.entries()) expect(weight).toBeCloseTo(i === 2 ? 1 : 0, 14);
});

test('a parabola is reproduced', () => {
  const parabola = x.map((value) => 3 - value + 2 * value ** 2);
  const found = curve(localWeights(x, at, { span: 0.6, degree: 2 })!, parabola);
  for (const [i, value] of found.entries())
    expect(value).toBeCloseTo(3 - at[i]! + 2 * at[i]! ** 2, 10);
});

test('too few different x have no weights', () => {
  const options = { span: 1, degree: 2 } as const;
  expect(localWeights(new Float64Array(12).fill(2), at, options)).toBeNull();
  expect(localWeights([0, 0, 0, 1, 1, 1, 0, 1, 0, 1], at, options)).toBeNull();
  // Two clusters so tight that a parabola would hang on rounding.
  expect(localWeights([0, 0, 1e-9, 1, 1, 1 + 1e-9, 0, 1], at, options)).toBeNull();
  expect(localWeights([], at, options)).toBeNull();
});
