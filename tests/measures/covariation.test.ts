import { expect, test } from 'vitest';
import { covariation, isSteadying } from '../../src/core/measures/covariation.ts';
import { checkedCovariance } from '../../src/core/statistics/moments.ts';
import { answered, expectNear, PRINTED } from '../statistics/answers.ts';
import { PLANAR_JOINTS, planarReach } from './planar-arm.ts';

const [, elbow, wrist] = PLANAR_JOINTS as [Float64Array, Float64Array, Float64Array];
const reach = (joints: Float64Array) => planarReach(joints[0]!, joints[1]!);
const OPTIONS = { seed: 1 };

// Expected values of reference.md C3.
test('four trials of a planar arm, all 24 arrangements', () => {
  const found = answered(covariation([elbow.slice(0, 4), wrist.slice(0, 4)], reach, OPTIONS));
  expect([found.exact, found.rearrangements]).toEqual([true, 24]);
  expectNear(found.variance, 0.000112330816465, PRINTED);
  expectNear(found.freeVariance, 7.97950005964e-5, PRINTED);
  expectNear(found.sdGain, -0.0016658186, 1e-7);
  expect(found.p).toBe(17 / 24);
  expect(isSteadying(found, 0.9)).toBe(false);
});

test('ten trials, drawn at random', () => {
  const found = answered(covariation([elbow, wrist], reach, { seed: 3, draws: 9999 }));
  expect([found.exact, found.n]).toEqual([false, 10]);
  expectNear(found.variance, 4.28544674e-5, 1e-7);
  // Exact over all 10! arrangements; the standard error of 9999 draws is 0.03e-5.
  expect(Math.abs(found.freeVariance - 9.87082096872e-5)).toBeLessThan(0.1e-5);
});

test('of a linear outcome, the free variance is the sum of squared gradients times variances', () => {
  const columns = [
    [1, 2, 4, 7],
    [3, -1, 0, 2],
    [5, 5, 9, 1],
  ];
  const gradient = [2, -1, 0.5];
  const found = answered(
    covariation(columns, (c) => gradient.reduce((sum, g, k) => sum + g * c[k]!, 0), OPTIONS),
  );
  const expected = columns.reduce(
    (sum, column, k) => sum + gradient[k]! ** 2 * checkedCovariance(column, column),
    0,
  );
  expect(found.rearrangements).toBe(24 ** 2);
  expectNear(found.freeVariance, expected, 1e-12);
});

test('elements that cancel exactly are the rarest of all arrangements', () => {
  const x = [1, 2, 3, 5, 8, 13];
  const found = answered(covariation([x, x.map((v) => -v)], (c) => c[0]! + c[1]!, OPTIONS));
  expect(found.variance).toBe(0);
  expect(found.p).toBe(1 / 720);
  expect(isSteadying(found, 0.05)).toBe(true);
});

test('what cannot be permuted is named', () => {
  for (const n of [0, 1, 2])
    expect(covariation([elbow.slice(0, n), wrist.slice(0, n)], reach, OPTIONS)).toEqual({
      reason: 'too-few',
      need: 4,
      have: n,
    });
  const still = new Float64Array(8).fill(1);
  expect(covariation([still, still], reach, OPTIONS)).toEqual({ reason: 'no-spread' });
  expect(covariation([elbow, wrist.with(2, Number.NaN)], reach, OPTIONS)).toEqual({
    reason: 'not-finite',
    index: 2,
  });
  expect(covariation([elbow, wrist], () => Number.NaN, OPTIONS)).toEqual({
    reason: 'unstable',
    failed: 1,
    of: 1,
  });
});
