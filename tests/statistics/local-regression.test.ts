import { describe, expect, test } from 'vitest';
import { seededRandom } from '../../src/core/maths/random.ts';
import { localRegression } from '../../src/core/statistics/local-regression.ts';
import { answered, expectNear } from './answers.ts';
import golden from './golden.json' with { type: 'json' };

const curve = (x: number) => 3 - 40 * (x - 0.5) ** 2;

describe.each(golden.localRegression)('span $span, degree $degree', (set) => {
  const { x, y, at, span, degree } = set;
  const answer = answered(localRegression(x, y, at, { span, degree: degree as 1 | 2 }));

  // Cleveland's program leaves out points beyond 0.999 of the bandwidth, where tricube is below 3e-8.
  test('curve agrees with the loess program of Cleveland, Grosse & Shyu', () => {
    for (const [i, value] of set.fit.entries()) expectNear(answer.fit[i], value, 1e-6);
    expectNear(answer.residualSd, set.residualSd, 1e-6);
    expectNear(answer.equivalentParameters, set.equivalentParameters, 1e-6);
  });

  test('band agrees too', () => {
    for (const [i, value] of set.low.entries()) expectNear(answer.low[i], value, 1e-5);
    for (const [i, value] of set.high.entries()) expectNear(answer.high[i], value, 1e-5);
  });
});

test('local parabolas reproduce a parabola, local lines a line', () => {
  const x = Array.from({ length: 20 }, (_, i) => (i * 0.37) % 1);
  const at = [0.05, 0.5, 0.93];
  const noise = seededRandom(4);
  const y = x.map((value) => curve(value) + noise.normal(1e-9));
  const parabola = answered(localRegression(x, y, at));
  for (const [i, place] of at.entries()) expectNear(parabola.fit[i], curve(place), 1e-7);
  const line = answered(
    localRegression(
      x,
      x.map((value, i) => 2 - 5 * value + (i % 2) * 1e-9),
      at,
      { degree: 1 },
    ),
  );
  for (const [i, place] of at.entries()) expectNear(line.fit[i], 2 - 5 * place, 1e-7);
});

test('the 95 % band holds the true curve about 95 % of the time', () => {
  const random = seededRandom(11);
  const runs = 400;
  let inside = 0;
  for (let run = 0; run < runs; run++) {
    const x = Array.from({ length: 40 }, () => random.uniform(0, 1));
    const y = x.map((value) => curve(value) + random.normal(0.5));
    const band = answered(localRegression(x, y, [0.5]));
    if (band.low[0]! <= curve(0.5) && curve(0.5) <= band.high[0]!) inside++;
  }
  // Binomial SE at 400 runs is 1.1 %; three of them.
  expect(inside / runs).toBeGreaterThan(0.917);
  expect(inside / runs).toBeLessThan(0.983);
});

test('repeated x are fine as long as there are enough different ones', () => {
  const x = Array.from({ length: 24 }, (_, i) => (i % 8) / 8);
  expect(
    answered(
      localRegression(
        x,
        x.map(curve).map((v, i) => v + (i % 3)),
        [0.4],
      ),
    ).n,
  ).toBe(24);
  const two = x.map((value) => (value < 0.5 ? 0 : 1));
  expect(localRegression(two, x, [0.5])).toEqual({ reason: 'collinear' });
  expect(
    localRegression(
      x.map(() => 0.5),
      x,
      [0.5],
    ),
  ).toEqual({ reason: 'collinear' });
});

test('what cannot be smoothed is named', () => {
  expect(localRegression([], [], [1])).toEqual({ reason: 'too-few', need: 7, have: 0 });
  expect(localRegression([1, 2], [1, 2], [1], { degree: 1, span: 0.5 })).toEqual({
    reason: 'too-few',
    need: 8,
    have: 2,
  });
  const x = [1, 2, 3, 4, 5, 6, 7, 8];
  expect(localRegression([...x, 9], [...x, Number.NaN], [1])).toEqual({
    reason: 'not-finite',
    index: 8,
  });
  expect(() => localRegression(x, x, [Number.NaN])).toThrow(/not finite/);
  expect(() => localRegression(x, x, [1], { span: 40 })).toThrow(/Span 40/);
});

// Smoothers, weights and spread are smooth in n: one point more must hardly change anything where the way to compute
// the degrees of freedom changes.
test('of more than 400 points the band goes on as before', () => {
  const random = seededRandom(9);
  const x = Array.from({ length: 401 }, () => random.uniform(0, 1));
  const y = x.map((value) => curve(value) + random.normal(0.5));
  const some = answered(localRegression(x.slice(0, 400), y.slice(0, 400), [0.2, 0.5]));
  const more = answered(localRegression(x, y, [0.2, 0.5]));
  expect(Math.abs(more.residualSd / some.residualSd - 1)).toBeLessThan(0.005);
  expect(Math.abs(more.equivalentParameters / some.equivalentParameters - 1)).toBeLessThan(0.01);
  for (const i of [0, 1]) {
    const half = ({ low, high }: typeof some) => high[i]! - low[i]!;
    expect(Math.abs(half(more) / half(some) - 1)).toBeLessThan(0.01);
  }
});
