import type { Vector3 } from '../maths/vector.ts';

/**
 * Measurement update of a three-state Kalman filter, in place and without allocation. The measurements' errors are
 * independent, so they are weighed in one after another, each without a matrix to invert:
 *   F = P h';  s = w + h F;  x += F (e - h (x - x0)) / s;  P -= F F' / s
 * @param x state, shape (3) @param p covariance, symmetric, row-major (3,3) @param h observation matrix, row-major (3,3)
 * @param e innovation at the state as it comes, shape (3) @param w variances of the measurements, shape (3)
 * Source: Kalman 1960, doi 10.1115/1.3662552; one after another: Bierman 1977, Factorization Methods for Discrete
 * Sequential Estimation, section II.2 (from memory).
 */
export function kalmanUpdate3(
  x: Vector3,
  p: Float64Array,
  h: Float64Array,
  e: Vector3,
  w: Vector3,
): void {
  // Half of P in variables and products written out: this is the innermost part of the filter.
  let p00 = p[0]!,
    p01 = p[1]!,
    p02 = p[2]!,
    p11 = p[4]!,
    p12 = p[5]!,
    p22 = p[8]!;
  let dx = 0,
    dy = 0,
    dz = 0;
  for (let i = 0; i < 3; i++) {
    const hx = h[3 * i]!,
      hy = h[3 * i + 1]!,
      hz = h[3 * i + 2]!;
    const fx = p00 * hx + p01 * hy + p02 * hz;
    const fy = p01 * hx + p11 * hy + p12 * hz;
    const fz = p02 * hx + p12 * hy + p22 * hz;
    const certainty = 1 / (w[i]! + hx * fx + hy * fy + hz * fz);
    const kx = certainty * fx;
    const ky = certainty * fy;
    const kz = certainty * fz;
    const left = e[i]! - (hx * dx + hy * dy + hz * dz);
    dx += kx * left;
    dy += ky * left;
    dz += kz * left;
    p00 -= kx * fx;
    p01 -= kx * fy;
    p02 -= kx * fz;
    p11 -= ky * fy;
    p12 -= ky * fz;
    p22 -= kz * fz;
  }
  x[0] = x[0]! + dx;
  x[1] = x[1]! + dy;
  x[2] = x[2]! + dz;
  p[0] = p00;
  p[1] = p[3] = p01;
  p[2] = p[6] = p02;
  p[4] = p11;
  p[5] = p[7] = p12;
  p[8] = p22;
}
