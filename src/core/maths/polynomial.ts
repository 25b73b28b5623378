/**
 * Value of a cubic through four equally spaced points, between the middle two.
 * @param u 0 at y1, 1 at y2
 * Source: Lagrange interpolation, e.g. Abramowitz & Stegun 25.2.13.
 */
export function cubicBetween(y0: number, y1: number, y2: number, y3: number, u: number): number {
  return (
    (-u * (u - 1) * (u - 2) * y0) / 6 +
    ((u + 1) * (u - 1) * (u - 2) * y1) / 2 -
    ((u + 1) * u * (u - 2) * y2) / 2 +
    ((u + 1) * u * (u - 1) * y3) / 6
  );
}

/** Parabola through the last points of a series: value and slope at the end, and half the curvature. */
export interface EndParabola {
  readonly value: number;
  readonly slope: number;
  readonly halfCurvature: number;
}

/**
 * Least-squares parabola over the last `n` values of an equally spaced series.
 * @param y at least `n` values @param n at least 3
 * @returns coefficients in steps of the series, origin at the last value: y(x) = value + slope x + halfCurvature x^2
 * @throws RangeError when there are too few values
 * Source: normal equations on the centred abscissa (Gram polynomials), Savitzky & Golay 1964.
 */
export function fitEndParabola(y: ArrayLike<number>, n: number): EndParabola {
  if (n < 3 || y.length < n)
    throw new RangeError(
      `fitEndParabola: a parabola through ${n} of ${y.length} values is not possible; it needs 3`,
    );
  const centre = (n - 1) / 2;
  const meanSquare = (n * n - 1) / 12;
  let mean = 0;
  let first = 0;
  let second = 0;
  let firstNorm = 0;
  let secondNorm = 0;
  for (let i = 0; i < n; i++) {
    const x = i - centre;
    const g2 = x * x - meanSquare;
    const value = y[y.length - n + i]!;
    mean += value / n;
    first += value * x;
    second += value * g2;
    firstNorm += x * x;
    secondNorm += g2 * g2;
  }
  const b = first / firstNorm;
  const c = second / secondNorm;
  return {
    value: mean + b * centre + c * (centre * centre - meanSquare),
    slope: b + 2 * c * centre,
    halfCurvature: c,
  };
}

/**
 * Slope of the least-squares cubic over the last `n` values of an equally spaced series. Where a quantity is about to
 * turn, a parabola's slope, carried on, runs past it.
 * @param y at least `n` values @param n at least 4 @param x where, in steps of the series from the last value
 * @returns per step
 * @throws RangeError when there are too few values
 * Source: Gram polynomials as for {@link fitEndParabola}, Savitzky & Golay 1964, doi 10.1021/ac60214a047.
 * Checked: tests/maths/polynomial.test.ts against their table.
 */
export function endCubicSlope(y: ArrayLike<number>, n: number, x: number): number {
  if (n < 4 || y.length < n)
    throw new RangeError(
      `endCubicSlope: a cubic through ${n} of ${y.length} values is not possible; it needs 4`,
    );
  const centre = (n - 1) / 2;
  const meanSquare = (n * n - 1) / 12;
  const bend = (3 * n * n - 7) / 20;
  const sums = [0, 0, 0];
  const norms = [0, 0, 0];
  for (let i = 0; i < n; i++) {
    const t = i - centre;
    [t, t * t - meanSquare, t * (t * t - bend)].forEach((g, k) => {
      sums[k] = sums[k]! + g * y[y.length - n + i]!;
      norms[k] = norms[k]! + g * g;
    });
  }
  const [b, c, d] = sums.map((sum, k) => sum / norms[k]!) as [number, number, number];
  const at = centre + x;
  return b + 2 * c * at + d * (3 * at * at - bend);
}
