import { expect, test } from 'vitest';
import {
  chiSquareQuantile,
  fQuantile,
  fUpperP,
  logGamma,
  normalCdf,
  normalQuantile,
  tQuantile,
  tTwoSidedP,
} from '../../src/core/statistics/distributions.ts';
import { expectNear, PRINTED } from './answers.ts';
import golden from './golden.json' with { type: 'json' };

// Two libraries of full double precision; quantiles far out lose a few digits to iteration.
const LIBRARY = 1e-11;

const FUNCTIONS: Record<string, (...args: number[]) => number> = {
  normalCdf,
  normalQuantile,
  tTwoSidedP,
  tQuantile,
  fUpperP,
  fQuantile,
  chiSquareQuantile,
  logGamma,
};

test.each(Object.entries(golden.distributions))('%s agrees with scipy on a grid', (name, rows) => {
  const fn = FUNCTIONS[name]!;
  for (const row of rows) expectNear(fn(...row.slice(0, -1)), row.at(-1)!, LIBRARY);
});

test('spot values of reference.md section A hold', () => {
  expectNear(tQuantile(0.975, 8), 2.306, 1e-5); // printed with four digits
  expectNear(tQuantile(0.975, 10), 2.228138852, PRINTED);
  expectNear(tQuantile(0.975, 13), 2.1603686565, PRINTED);
  expectNear(normalQuantile(0.975), 1.9599639845, PRINTED);
  expectNear(chiSquareQuantile(0.95, 2), -2 * Math.log(0.05), PRINTED); // closed form
  expectNear(fQuantile(0.95, 9, 90), 1.9855949637, PRINTED);
  expectNear(tTwoSidedP(2, 10), 0.0733880348, PRINTED);
  expectNear(fUpperP(3, 4, 20), 0.0432009983, PRINTED);
  expectNear(normalCdf(1.3), 0.9031995154, PRINTED);
  expect(fUpperP(0, 3, 9)).toBe(1);
});
