import { expect, test } from 'vitest';
import { seededRandom } from '../../src/core/maths/random.ts';
import { commonSlope } from '../../src/core/statistics/common-slope.ts';
import { answered, expectNear, ROUNDING } from './answers.ts';

const X = [1, 2, 3, 4, 5, 6, 7, 8];
const Y = [1.2, 1.9, 3.1, 9, 9.4, 10.9, 4.1, 5.3];
const GROUPS = ['a', 'a', 'a', 'b', 'b', 'b', 'a', 'a'];

// Expected values: make-comparison.py.
test('slope and interval of the analysis of covariance', () => {
  const { slope, p } = answered(commonSlope(X, Y, GROUPS, { seed: 1, draws: 20_000 }));
  expectNear(slope.value, 0.5338235294117633, ROUNDING);
  expectNear(slope.low, 0.3311606081267399, 1e-9);
  expectNear(slope.high, 0.7364864506967865, 1e-9);
  // 1 of 720 rearrangements; four standard errors of 20 000 draws.
  expect(Math.abs(p - 1 / 720)).toBeLessThan(4 * Math.sqrt(1 / 720 / 20_000));
});

test('one group is plain regression: exact permutation p of six rows', () => {
  // reference.md B10: 54 of 720 rearrangements.
  const one = X.slice(0, 6).map(() => 'all');
  const found = answered(commonSlope(X.slice(0, 6), [2, 1, 4, 3, 7, 5], one, { seed: 2 }));
  expect(Math.abs(found.p - 54 / 720)).toBeLessThan(0.011);
});

test('a difference between groups is no slope', () => {
  const random = seededRandom(4);
  let alarms = 0;
  let held = 0;
  for (let s = 0; s < 400; s++) {
    const x = Array.from({ length: 20 }, (_, i) => i);
    const groups = x.map((i) => (i < 10 ? 'first' : 'second'));
    const y = x.map((i) => (i < 10 ? 0 : 5) + random.normal(1));
    const { slope, p } = answered(commonSlope(x, y, groups, { seed: s, draws: 199 }));
    if (p <= 0.05) alarms++;
    if (slope.low <= 0 && slope.high >= 0) held++;
  }
  // 5 and 95 %, three standard errors of 400.
  expect(Math.abs(alarms / 400 - 0.05)).toBeLessThan(0.033);
  expect(Math.abs(held / 400 - 0.95)).toBeLessThan(0.033);
});

test('what has no slope is named', () => {
  const label = (n: number) => Array.from({ length: n }, () => 'a');
  const options = { seed: 1 };
  expect(commonSlope([], [], [], options)).toEqual({ reason: 'too-few', need: 6, have: 0 });
  expect(commonSlope(X, [3, 3, 3, 3, 3, 3, 3, 3], label(8), options)).toEqual({
    reason: 'no-spread',
  });
  expect(
    commonSlope([1, 1, 1, 2, 2, 2], X.slice(0, 6), ['a', 'a', 'a', 'b', 'b', 'b'], options),
  ).toEqual({ reason: 'collinear' });
  expect(commonSlope(X, [1, 2, Number.NaN, 4, 5, 6, 7, 8], label(8), options)).toEqual({
    reason: 'not-finite',
    index: 2,
  });
  expect(() => commonSlope(X, Y, ['a'], options)).toThrow(/1 labels for 8 rows/);
  expect(() => commonSlope(X, Y, label(8), { seed: 1, draws: 10 })).toThrow(RangeError);
});
