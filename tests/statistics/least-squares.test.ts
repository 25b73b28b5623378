import { describe, expect, test } from 'vitest';
import { coefficientEstimate, leastSquares } from '../../src/core/statistics/least-squares.ts';
import { fitPolynomial } from '../../src/core/statistics/polynomial-fit.ts';
import { answered, expectNear } from './answers.ts';
import nist from './nist.json' with { type: 'json' };

// Certified values of NIST StRD to 15 digits. QR in doubles loses about log10(condition) of them.

test('NIST Norris: straight line', () => {
  const fit = answered(fitPolynomial(nist.Norris.x, nist.Norris.y, 1));
  expectNear(fit.coefficients[0], -0.262323073774029, 1e-11);
  expectNear(fit.coefficients[1], 1.00211681802045, 1e-13);
  expectNear(fit.standardErrors[0], 0.232818234301152, 1e-12);
  expectNear(fit.standardErrors[1], 0.429796848199937e-3, 1e-12);
  expectNear(fit.residualSd, 0.884796396144373, 1e-12);
  expectNear(fit.residualSumSquares, 26.6173985294224, 1e-12);
  expectNear(fit.rSquared, 0.999993745883712, 1e-14);
});

test('NIST Pontius: parabola over x up to 3e6', () => {
  const fit = answered(fitPolynomial(nist.Pontius.x, nist.Pontius.y, 2));
  const b = [0.673565789473684e-3, 0.732059160401003e-6, -0.316081871345029e-14];
  const se = [0.107938612033077e-3, 0.157817399981659e-9, 0.486652849992036e-16];
  for (const [i, value] of b.entries()) expectNear(fit.coefficients[i], value, 1e-10);
  for (const [i, value] of se.entries()) expectNear(fit.standardErrors[i], value, 1e-10);
  expectNear(fit.residualSd, 0.205177424076185e-3, 1e-10);
  expectNear(fit.rSquared, 0.999999900178537, 1e-14);
});

describe('NIST Wampler: fifth degree, 1 + x + ... + x^5 over 0..20', () => {
  const x = Array.from({ length: 21 }, (_, i) => i);
  const exact = x.map((v) => 1 + v + v ** 2 + v ** 3 + v ** 4 + v ** 5);

  test('1: without residue', () => {
    const fit = answered(fitPolynomial(x, exact, 5));
    // A good QR reaches 5e-10 on the constant, the normal equations 3e-7 (reference.md).
    for (const coefficient of fit.coefficients) expectNear(coefficient, 1, 2e-9);
    expect(fit.residualSd).toBeLessThan(1e-8); // of y up to 3e6
    expectNear(fit.rSquared, 1, 1e-14);
  });

  test('3: standard errors', () => {
    // Residues as NIST gives them, from memory; the certified values below confirm them.
    const residues = [759, -2048, 2048, -2048, 2523, -2048, 2048, -2048, 1838, -2048, 2048];
    const y = exact.map((value, i) => value + residues[i <= 10 ? i : 20 - i]!);
    const fit = answered(fitPolynomial(x, y, 5));
    const se = [
      2152.3262467817, 2363.55173469681, 779.343524331583, 101.47550755035, 5.64566512170752,
      0.112324854679312,
    ];
    for (const [i, value] of se.entries()) expectNear(fit.standardErrors[i], value, 1e-10);
    expectNear(fit.residualSd, 2360.14502379268, 1e-12);
    expectNear(fit.rSquared, 0.99999555902582, 1e-14);
  });
});

test('NIST NoInt1: a line through the origin', () => {
  const x = Array.from({ length: 11 }, (_, i) => 60 + i);
  const fit = answered(
    leastSquares(
      [x],
      x.map((v) => v + 70),
    ),
  );
  expectNear(fit.coefficients[0], 2.07438016528926, 1e-14);
  expectNear(fit.standardErrors[0], 0.165289256198347e-1, 1e-13);
  expectNear(fit.residualSd, 3.56753034006338, 1e-13);
});

test('NIST Longley: six nearly collinear columns', () => {
  const column = (j: number) => nist.Longley.rows.map((row) => row[j]!);
  const design = [column(0).map(() => 1), ...[2, 3, 4, 5, 6, 7].map(column)];
  const fit = answered(leastSquares(design, column(1)));
  const b = [
    -3482258.63459582, 15.0618722713733, -0.35819179292591e-1, -2.02022980381683, -1.03322686717359,
    -0.511041056535807e-1, 1829.15146461355,
  ];
  for (const [i, value] of b.entries()) expectNear(fit.coefficients[i], value, 1e-8);
  expectNear(fit.residualSd, 304.854073561965, 1e-9);
});

test('interval of a slope is Student’s (Norris, t.975 with 34 df = 2.0322445 by scipy)', () => {
  const fit = answered(fitPolynomial(nist.Norris.x, nist.Norris.y, 1));
  const slope = coefficientEstimate(fit, 1);
  expectNear(slope.high - slope.value, 2.0322445 * 0.429796848199937e-3, 1e-7);
  expect(() => coefficientEstimate(fit, 2)).toThrow(/Coefficient 2 of a fit with 2/);
});

test('fits that do not exist are named', () => {
  expect(fitPolynomial([1, 2], [1, 2], 1)).toEqual({ reason: 'too-few', need: 3, have: 2 });
  expect(fitPolynomial([], [], 1)).toEqual({ reason: 'too-few', need: 3, have: 0 });
  expect(fitPolynomial([5.1, 5.1, 5.1, 5.1], [1, 2, 3, 4], 1)).toEqual({ reason: 'collinear' });
  expect(fitPolynomial([1, 2, 1, 2, 1], [1, 2, 3, 4, 5], 2)).toEqual({ reason: 'collinear' });
  expect(fitPolynomial([1, Number.NaN, 3], [1, 2, 3], 1)).toEqual({
    reason: 'not-finite',
    index: 1,
  });
  expect(leastSquares([[0, 0, 0]], [1, 2, 3])).toEqual({ reason: 'collinear' });
  const flat = answered(fitPolynomial([1, 2, 3, 4], [7, 7, 7, 7], 1));
  expect(flat.rSquared).toEqual({ reason: 'no-spread' });
  expect(() => fitPolynomial([1, 2, 3], [1, 2, 3], 0)).toThrow(/degree 0/);
  expect(() => leastSquares([], [1])).toThrow(/at least one column/);
});
