import type { Unavailable } from './estimate.ts';
import { type LeastSquaresFit, leastSquares } from './least-squares.ts';
import { variance } from './moments.ts';

/** y = b0 + b1 x + b2 x^2 + ... */
export interface PolynomialFit extends LeastSquaresFit {
  /** Share of the variance of y the curve explains; 'no-spread' when y has none. */
  readonly rSquared: number | Unavailable;
}

/**
 * Least-squares polynomial; degree 1 is the straight line.
 * @param x, y rows of two columns, at least degree + 2, with at least degree + 1 different x
 *   ('collinear' otherwise)
 * @param degree whole, at least 1
 * @throws RangeError for another degree or when the lengths differ
 * Source: see leastSquares.  Checked: tests/statistics/least-squares.test.ts, NIST StRD.
 */
export function fitPolynomial(
  x: ArrayLike<number>,
  y: ArrayLike<number>,
  degree: number,
): PolynomialFit | Unavailable {
  if (!(Number.isInteger(degree) && degree >= 1))
    throw new RangeError(`fitPolynomial: degree ${degree}; it must be 1, 2, ...`);
  const powers = Array.from({ length: degree + 1 }, (_, power) =>
    Float64Array.from(x, (value) => value ** power),
  );
  const fit = leastSquares(powers, y);
  if ('reason' in fit) return fit;
  const spread = variance(y);
  if (typeof spread !== 'number') return spread;
  const rSquared: number | Unavailable =
    spread === 0 ? { reason: 'no-spread' } : 1 - fit.residualSumSquares / (spread * (fit.n - 1));
  return { ...fit, rSquared };
}
