import { expect, test } from 'vitest';
import { seededRandom } from '../../src/core/maths/random.ts';
import { localRegression } from '../../src/core/statistics/local-regression.ts';
import { localWeights } from '../../src/core/statistics/local-weights.ts';
import { answered } from './answers.ts';

const random = seededRandom(3);
const x = Float64Array.from({ length: 23 }, () => random.normal(1));
const y = x.map((value) => Math.sin(2 * value) + random.normal(0.3));
const at = Float64Array.of(-1.2, -0.4, 0, 0.3, 1.1);

const curve = (weights: Float64Array, column: Float64Array) =>
  Array.from(at, (_, place) =>
    column.reduce((sum, value, i) => sum + weights[place * x.length + i]! * value, 0),
  );

test('weighted sums are the curve of localRegression, which is checked against its authors', () => {
  for (const span of [0.5, 0.75])
    for (const degree of [1, 2] as const) {
      const { fit } = answered(localRegression(x, y, at, { span, degree }));
      for (const [i, value] of curve(localWeights(x, at, { span, degree })!, y).entries())
        expect(value).toBeCloseTo(fit[i]!, 10);
    }
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
  expect(localWeights([], at, options)).toBeNull();
});
