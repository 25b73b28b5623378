import { describe, expect, it } from 'vitest';
import {
  fitLeastSquares,
  type LeastSquaresProblem,
} from '../../src/core/maths/levenberg-marquardt.ts';
import { expectClose } from './close.ts';

// NIST StRD, nonlinear regression, https://www.itl.nist.gov/div898/strd/nls/nls_main.shtml (US-government
// work): data, starts and certified values as NIST prints them, read in copies of its files.
const MISRA1A = {
  x: [77.6, 114.9, 141.1, 190.8, 239.9, 289, 332.8, 378.4, 434.8, 477.3, 536.8, 593.1, 689.1, 760],
  y: [
    10.07, 14.73, 17.94, 23.93, 29.61, 35.18, 40.02, 44.82, 50.76, 55.05, 61.01, 66.4, 75.47, 81.78,
  ],
  starts: [
    [500, 0.0001],
    [250, 0.0005],
  ],
  certified: [2.3894212918e2, 5.5015643181e-4],
  standardErrors: [2.7070075241, 7.2668688436e-6],
  sumOfSquares: 1.2455138894e-1,
};
const MGH10 = {
  x: [50, 55, 60, 65, 70, 75, 80, 85, 90, 95, 100, 105, 110, 115, 120, 125],
  y: [
    34780, 28610, 23650, 19630, 16370, 13720, 11540, 9744, 8261, 7030, 6005, 5147, 4427, 3820, 3307,
    2872,
  ],
  // From NIST's other start, far off in every parameter, the iterations end in a long curved valley before
  // they arrive: no start for this method.
  starts: [[0.02, 4000, 250]],
  certified: [5.609636471e-3, 6.1813463463e3, 3.4522363462e2],
  standardErrors: [1.5687892471e-4, 2.3309021107e1, 7.8486103508e-1],
  sumOfSquares: 8.7945855171e1,
};

/** y = b1 (1 - exp(-b2 x)) */
const misra1a: LeastSquaresProblem = {
  residualCount: MISRA1A.x.length,
  evaluate(b, residuals, jacobian) {
    MISRA1A.x.forEach((x, i) => {
      const decay = Math.exp(-b[1]! * x);
      residuals[i] = b[0]! * (1 - decay) - MISRA1A.y[i]!;
      jacobian.set([1 - decay, b[0]! * x * decay], 2 * i);
    });
  },
};

/** y = b1 exp(b2 / (x + b3)) */
const mgh10: LeastSquaresProblem = {
  residualCount: MGH10.x.length,
  evaluate(b, residuals, jacobian) {
    MGH10.x.forEach((x, i) => {
      const e = Math.exp(b[1]! / (x + b[2]!));
      residuals[i] = b[0]! * e - MGH10.y[i]!;
      const slope = (b[0]! * e) / (x + b[2]!);
      jacobian.set([e, slope, (-slope * b[1]!) / (x + b[2]!)], 3 * i);
    });
  },
};

describe('fitLeastSquares', () => {
  it.each([
    ['Misra1a, start 1', misra1a, MISRA1A, 0],
    ['Misra1a, start 2', misra1a, MISRA1A, 1],
    ['MGH10, start 2', mgh10, MGH10, 0],
  ] as const)('reaches the certified values of NIST %s', (_, problem, nist, start) => {
    const fit = fitLeastSquares(problem, nist.starts[start]!);
    expect(fit.converged).toBe(true);
    // nine of the eleven certified digits: normal equations lose some
    const relative = [...fit.parameters].map((b, k) => b / nist.certified[k]! - 1);
    expectClose(relative, relative.fill(0), 1e-9);
    expect(Math.abs(fit.sumOfSquares / nist.sumOfSquares - 1)).toBeLessThan(1e-9);
    const n = nist.certified.length;
    const variance = fit.sumOfSquares / (nist.x.length - n);
    const errors = nist.certified.map((_b, k) => Math.sqrt(variance * fit.cofactor![k * n + k]!));
    expectClose(
      errors.map((e, k) => e / nist.standardErrors[k]!),
      errors.map(() => 1),
      1e-7,
    );
  });

  it('says so when a parameter is not determined', () => {
    const onlySum: LeastSquaresProblem = {
      residualCount: 3,
      evaluate(b, residuals, jacobian) {
        for (let i = 0; i < 3; i++) {
          residuals[i] = b[0]! + b[1]! - i;
          jacobian.set([1, 1], 2 * i);
        }
      },
    };
    const fit = fitLeastSquares(onlySum, [0, 0]);
    expect(fit.cofactor).toBeNull();
    // the sum itself is found: the mean of 0, 1, 2
    expect(fit.parameters[0]! + fit.parameters[1]!).toBeCloseTo(1, 6);
  });

  it('finds an exact solution without noise', () => {
    const circle: LeastSquaresProblem = {
      residualCount: 2,
      evaluate(b, residuals, jacobian) {
        residuals[0] = b[0]! ** 2 + b[1]! ** 2 - 25;
        residuals[1] = b[0]! - 3;
        jacobian.set([2 * b[0]!, 2 * b[1]!, 1, 0]);
      },
    };
    expectClose(fitLeastSquares(circle, [1, 1]).parameters, [3, 4], 1e-12);
  });

  it('refuses more parameters than residuals, and a start that gives NaN', () => {
    expect(() => fitLeastSquares(misra1a, new Array(15).fill(1))).toThrow(/more than 14 residuals/);
    expect(() => fitLeastSquares(misra1a, [Number.NaN, 1])).toThrow(/first guess/);
  });
});
