import type { BenchTruth } from '../../src/core/simulator/simulated-bench.ts';

/** Errors of a sensor in its calibrated frame: matrices that should be 0, row-major (3, 3). */
export interface MatrixErrors {
  readonly accel: number[];
  readonly gyro: number[];
}

/**
 * What a calibration leaves of the scale and cross-axis errors:
 *   E = C M Q - I
 * with M the part's matrix, C the calibration's and Q the axes of the calibrated frame in the true one. The
 * frame follows from the accelerometer alone, f = (M_a)^-1 (a - b) = Q U (a - b): Q orthogonal, U upper triangular.
 * @param calibration matrices C; the identity for an uncalibrated part
 */
export function matrixErrors(
  truth: BenchTruth,
  calibration: { readonly accel: readonly number[]; readonly gyro: readonly number[] },
): MatrixErrors {
  const q = orthonormalColumns(inverse(truth.accelMatrix));
  const left = (c: readonly number[], m: readonly number[]) =>
    product(product(c, m), q).map((e, k) => e - (k % 4 === 0 ? 1 : 0));
  return {
    accel: left(calibration.accel, truth.accelMatrix),
    gyro: left(calibration.gyro, truth.gyroMatrix),
  };
}

export const IDENTITY = [1, 0, 0, 0, 1, 0, 0, 0, 1];

/** Largest absolute element. */
export function worst(values: readonly number[]): number {
  return Math.max(...values.map(Math.abs));
}

function product(a: readonly number[], b: readonly number[]): number[] {
  return Array.from({ length: 9 }, (_, k) => {
    const row = 3 * Math.floor(k / 3);
    const column = k % 3;
    return a[row]! * b[column]! + a[row + 1]! * b[column + 3]! + a[row + 2]! * b[column + 6]!;
  });
}

function inverse(m: readonly number[]): number[] {
  const at = (i: number, j: number) => m[3 * (i % 3) + (j % 3)]!;
  const cofactor = (i: number, j: number) =>
    at(i + 1, j + 1) * at(i + 2, j + 2) - at(i + 1, j + 2) * at(i + 2, j + 1);
  const determinant =
    at(0, 0) * cofactor(0, 0) + at(0, 1) * cofactor(0, 1) + at(0, 2) * cofactor(0, 2);
  return Array.from({ length: 9 }, (_, k) => cofactor(k % 3, Math.floor(k / 3)) / determinant);
}

/** Gram-Schmidt on the columns. */
function orthonormalColumns(m: readonly number[]): number[] {
  const out = [...m];
  for (let j = 0; j < 3; j++) {
    for (let p = 0; p < j; p++) {
      const along = out[j]! * out[p]! + out[j + 3]! * out[p + 3]! + out[j + 6]! * out[p + 6]!;
      for (let i = 0; i < 9; i += 3) out[i + j] = out[i + j]! - along * out[i + p]!;
    }
    const length = Math.hypot(out[j]!, out[j + 3]!, out[j + 6]!);
    for (let i = 0; i < 9; i += 3) out[i + j] = out[i + j]! / length;
  }
  return out;
}
