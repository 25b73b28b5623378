import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { cubicBetween, endCubicSlope, fitEndParabola } from '../../src/core/maths/polynomial.ts';
import { expectClose } from './close.ts';

const coefficient = fc.double({ min: -10, max: 10, noNaN: true });

describe('cubicBetween', () => {
  it('is exact on cubics', () => {
    fc.assert(
      fc.property(
        fc.tuple(coefficient, coefficient, coefficient, coefficient),
        fc.double({ min: 0, max: 1, noNaN: true }),
        ([a, b, c, d], u) => {
          const f = (x: number) => a + x * (b + x * (c + x * d));
          // values up to 150 with a few roundings each
          expect(Math.abs(cubicBetween(f(-1), f(0), f(1), f(2), u) - f(u))).toBeLessThan(1e-12);
        },
      ),
    );
  });

  it('goes through its two middle points', () => {
    expect(cubicBetween(3, -1, 4, 9, 0)).toBe(-1);
    expect(cubicBetween(3, -1, 4, 9, 1)).toBe(4);
  });

  it('errs on a quartic by its fourth difference', () => {
    // Remainder of four-point Lagrange interpolation: (u+1) u (u-1) (u-2) f''''/24, Abramowitz & Stegun 25.2.15.
    const f = (x: number) => x ** 4;
    const u = 0.5;
    const remainder = (u + 1) * u * (u - 1) * (u - 2);
    expect(f(u) - cubicBetween(f(-1), f(0), f(1), f(2), u)).toBeCloseTo(remainder, 14);
  });
});

describe('fitEndParabola', () => {
  it('is exact on parabolas, whatever comes before the last n values', () => {
    fc.assert(
      fc.property(
        fc.tuple(coefficient, coefficient, coefficient),
        fc.integer({ min: 3, max: 12 }),
        ([value, slope, halfCurvature], n) => {
          const y = [99, -99, 7];
          for (let x = 1 - n; x <= 0; x++) y.push(value + x * (slope + x * halfCurvature));
          const fit = fitEndParabola(y, n);
          // values up to 1500, weights of order 1
          expectClose(
            [fit.value, fit.slope, fit.halfCurvature],
            [value, slope, halfCurvature],
            1e-11,
          );
        },
      ),
    );
  });

  it('gives the least-squares parabola of five values worked by hand', () => {
    // x = -4..0, y = 0,0,1,0,0 centred at the middle: Savitzky & Golay 1964 five-point smoothing
    // weights (-3, 12, 17, 12, -3)/35 give 17/35 at the centre; half curvature sum g2 y / sum g2^2 = -2/14.
    const fit = fitEndParabola([0, 0, 1, 0, 0], 5);
    const c = -1 / 7;
    expect(fit.halfCurvature).toBeCloseTo(c, 15);
    expect(fit.slope).toBeCloseTo(2 * c * 2, 15); // symmetric about the centre, two steps away
    expect(fit.value).toBeCloseTo(17 / 35 + 4 * c, 15);
  });

  it('keeps its digits at a large common offset', () => {
    const y = Array.from({ length: 7 }, (_, i) => 1e6 + 0.001 * (i - 6) ** 2);
    const fit = fitEndParabola(y, 7);
    expect(fit.halfCurvature).toBeCloseTo(0.001, 9); // 1e6 in double: 1e-10 per value
  });

  it('refuses fewer than three values and fewer values than asked for', () => {
    expect(() => fitEndParabola([1, 2, 3], 2)).toThrow(RangeError);
    expect(() => fitEndParabola([1, 2, 3], 4)).toThrow(RangeError);
  });
});

describe('endCubicSlope', () => {
  it('is exact on cubics, inside and beyond', () => {
    fc.assert(
      fc.property(
        fc.tuple(coefficient, coefficient, coefficient),
        fc.integer({ min: 4, max: 12 }),
        fc.double({ min: -6, max: 3, noNaN: true }),
        ([b, c, d], n, at) => {
          const y = [99, -99, 7];
          for (let x = 1 - n; x <= 0; x++) y.push(3 + x * (b + x * (c + x * d)));
          const slope = b + at * (2 * c + 3 * d * at);
          // values up to 15 000 with a few roundings each
          expect(Math.abs(endCubicSlope(y, n, at) - slope)).toBeLessThan(1e-9);
        },
      ),
    );
  });

  // Savitzky & Golay 1964, Anal Chem 36:1627, first derivative, cubic and quartic, nine points (table from memory).
  it('weighs nine values as the published table does at their middle', () => {
    const weights = Array.from({ length: 9 }, (_, k) => {
      const y = Array.from({ length: 9 }, (_, i) => (i === k ? 1188 : 0));
      return endCubicSlope(y, 9, -4);
    });
    expectClose(weights, [86, -142, -193, -126, 0, 126, 193, 142, -86], 1e-10);
  });

  it('refuses fewer than four values and fewer values than asked for', () => {
    expect(() => endCubicSlope([1, 2, 3, 4], 3, 0)).toThrow(RangeError);
    expect(() => endCubicSlope([1, 2, 3, 4], 5, 0)).toThrow(RangeError);
  });
});
