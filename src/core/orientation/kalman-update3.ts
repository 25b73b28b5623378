import type { Vector3 } from '../maths/vector.ts';

const ph = new Float64Array(9);
const s = new Float64Array(9);
const sInverse = new Float64Array(9);
const gain = new Float64Array(9);

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
  for (let i = 0; i < 3; i++) {
    for (let j = 0; j < 3; j++) {
      let sum = 0;
      for (let k = 0; k < 3; k++) sum += p[3 * i + k]! * h[3 * j + k]!;
      ph[3 * i + j] = sum;
    }
  }
  for (let i = 0; i < 3; i++) {
    for (let j = 0; j < 3; j++) {
      let sum = i === j ? w[i]! : 0;
      for (let k = 0; k < 3; k++) sum += h[3 * i + k]! * ph[3 * k + j]!;
      s[3 * i + j] = sum;
    }
  }
  invert3(sInverse, s);
  for (let i = 0; i < 3; i++) {
    for (let j = 0; j < 3; j++) {
      let sum = 0;
      for (let k = 0; k < 3; k++) sum += ph[3 * i + k]! * sInverse[3 * k + j]!;
      gain[3 * i + j] = sum;
    }
  }
  for (let i = 0; i < 3; i++) {
    x[i] = x[i]! + gain[3 * i]! * e[0]! + gain[3 * i + 1]! * e[1]! + gain[3 * i + 2]! * e[2]!;
  }
  // H P = (P H')' because P is symmetric
  for (let i = 0; i < 3; i++) {
    for (let j = 0; j < 3; j++) {
      let sum = 0;
      for (let k = 0; k < 3; k++) sum += gain[3 * i + k]! * ph[3 * j + k]!;
      p[3 * i + j] = p[3 * i + j]! - sum;
    }
  }
}

function invert3(out: Float64Array, m: Float64Array): void {
  const a = m[4]! * m[8]! - m[5]! * m[7]!;
  const b = m[5]! * m[6]! - m[3]! * m[8]!;
  const c = m[3]! * m[7]! - m[4]! * m[6]!;
  const d = 1 / (m[0]! * a + m[1]! * b + m[2]! * c);
  out[0] = a * d;
  out[1] = (m[2]! * m[7]! - m[1]! * m[8]!) * d;
  out[2] = (m[1]! * m[5]! - m[2]! * m[4]!) * d;
  out[3] = b * d;
  out[4] = (m[0]! * m[8]! - m[2]! * m[6]!) * d;
  out[5] = (m[2]! * m[3]! - m[0]! * m[5]!) * d;
  out[6] = c * d;
  out[7] = (m[1]! * m[6]! - m[0]! * m[7]!) * d;
  out[8] = (m[0]! * m[4]! - m[1]! * m[3]!) * d;
}
