import type { Vector3 } from '../maths/vector.ts';

/**
 * Measurement update of a three-state Kalman filter, in place and without allocation.
 *   K = P H' (W + H P H')^-1;  x += K e;  P -= K H P
 * @param x state, shape (3) @param p covariance, row-major (3,3) @param h observation matrix, row-major (3,3)
 * @param e innovation, shape (3) @param w diagonal of the measurement covariance, shape (3)
 * Source: Kalman 1960, doi 10.1115/1.3662552.
 */
export function kalmanUpdate3(
  x: Vector3,
  p: Float64Array,
  h: Float64Array,
  e: Vector3,
  w: Vector3,
): void {
  // Written out: the compiler does not unroll loops this short, and this is the innermost part of the filter.
  const p00 = p[0]!,
    p01 = p[1]!,
    p02 = p[2]!;
  const p10 = p[3]!,
    p11 = p[4]!,
    p12 = p[5]!;
  const p20 = p[6]!,
    p21 = p[7]!,
    p22 = p[8]!;
  const h00 = h[0]!,
    h01 = h[1]!,
    h02 = h[2]!;
  const h10 = h[3]!,
    h11 = h[4]!,
    h12 = h[5]!;
  const h20 = h[6]!,
    h21 = h[7]!,
    h22 = h[8]!;
  const f00 = p00 * h00 + p01 * h01 + p02 * h02;
  const f01 = p00 * h10 + p01 * h11 + p02 * h12;
  const f02 = p00 * h20 + p01 * h21 + p02 * h22;
  const f10 = p10 * h00 + p11 * h01 + p12 * h02;
  const f11 = p10 * h10 + p11 * h11 + p12 * h12;
  const f12 = p10 * h20 + p11 * h21 + p12 * h22;
  const f20 = p20 * h00 + p21 * h01 + p22 * h02;
  const f21 = p20 * h10 + p21 * h11 + p22 * h12;
  const f22 = p20 * h20 + p21 * h21 + p22 * h22;
  const s00 = w[0]! + h00 * f00 + h01 * f10 + h02 * f20;
  const s01 = h00 * f01 + h01 * f11 + h02 * f21;
  const s02 = h00 * f02 + h01 * f12 + h02 * f22;
  const s10 = h10 * f00 + h11 * f10 + h12 * f20;
  const s11 = w[1]! + h10 * f01 + h11 * f11 + h12 * f21;
  const s12 = h10 * f02 + h11 * f12 + h12 * f22;
  const s20 = h20 * f00 + h21 * f10 + h22 * f20;
  const s21 = h20 * f01 + h21 * f11 + h22 * f21;
  const s22 = w[2]! + h20 * f02 + h21 * f12 + h22 * f22;
  const a = s11 * s22 - s12 * s21;
  const b = s12 * s20 - s10 * s22;
  const c = s10 * s21 - s11 * s20;
  const d = 1 / (s00 * a + s01 * b + s02 * c);
  const v00 = a * d;
  const v01 = (s02 * s21 - s01 * s22) * d;
  const v02 = (s01 * s12 - s02 * s11) * d;
  const v10 = b * d;
  const v11 = (s00 * s22 - s02 * s20) * d;
  const v12 = (s02 * s10 - s00 * s12) * d;
  const v20 = c * d;
  const v21 = (s01 * s20 - s00 * s21) * d;
  const v22 = (s00 * s11 - s01 * s10) * d;
  const k00 = f00 * v00 + f01 * v10 + f02 * v20;
  const k01 = f00 * v01 + f01 * v11 + f02 * v21;
  const k02 = f00 * v02 + f01 * v12 + f02 * v22;
  const k10 = f10 * v00 + f11 * v10 + f12 * v20;
  const k11 = f10 * v01 + f11 * v11 + f12 * v21;
  const k12 = f10 * v02 + f11 * v12 + f12 * v22;
  const k20 = f20 * v00 + f21 * v10 + f22 * v20;
  const k21 = f20 * v01 + f21 * v11 + f22 * v21;
  const k22 = f20 * v02 + f21 * v12 + f22 * v22;
  x[0] = x[0]! + k00 * e[0]! + k01 * e[1]! + k02 * e[2]!;
  x[1] = x[1]! + k10 * e[0]! + k11 * e[1]! + k12 * e[2]!;
  x[2] = x[2]! + k20 * e[0]! + k21 * e[1]! + k22 * e[2]!;
  p[0] = p00 - (k00 * f00 + k01 * f01 + k02 * f02);
  p[1] = p01 - (k00 * f10 + k01 * f11 + k02 * f12);
  p[2] = p02 - (k00 * f20 + k01 * f21 + k02 * f22);
  p[3] = p10 - (k10 * f00 + k11 * f01 + k12 * f02);
  p[4] = p11 - (k10 * f10 + k11 * f11 + k12 * f12);
  p[5] = p12 - (k10 * f20 + k11 * f21 + k12 * f22);
  p[6] = p20 - (k20 * f00 + k21 * f01 + k22 * f02);
  p[7] = p21 - (k20 * f10 + k21 * f11 + k22 * f12);
  p[8] = p22 - (k20 * f20 + k21 * f21 + k22 * f22);
}
