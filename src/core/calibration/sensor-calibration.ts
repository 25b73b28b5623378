import type { Vector3 } from '../maths/vector.ts';
import type { TriadColumns } from './bench-recording.ts';

/**
 * Calibration of one triad: calibrated = matrix (raw - bias).
 * The matrix is the product of misalignment and scale (T K in the paper). Plain data.
 */
export interface TriadCalibration {
  /** Row-major (3, 3), dimensionless. */
  readonly matrix: readonly number[];
  /** Shape (3), in the unit of the samples: rad/s or m/s^2. */
  readonly bias: readonly number[];
  /**
   * Standard errors of the same shapes, from the scatter of the fit; a 0 stands for an element that is 0 by
   * definition. Choosing the best threshold makes them a little small: against simulated truth the errors are
   * 1.1 times as large with 30 rests, up to 1.6 times with 16. They know nothing of a wrong local gravity, of
   * temperature or of ageing.
   */
  readonly matrixSE: readonly number[];
  readonly biasSE: readonly number[];
  /**
   * Root mean square misfit. Accelerometer: of the calibrated magnitude at rest against gravity, m/s^2.
   * Gyroscope: of the direction of gravity carried from rest to rest against the one felt, rad.
   */
  readonly residualRms: number;
}

/**
 * Bench calibration of one sensor. Plain data; JSON keeps it.
 * Calibrated frame: orthogonal, x along the accelerometer's x axis, y in the plane of its x and y axes; both
 * triads are expressed in it.
 */
export interface SensorCalibration {
  /** Upper triangular: fixing the frame to the accelerometer leaves it three angles. */
  readonly accelerometer: TriadCalibration;
  readonly gyroscope: TriadCalibration;
  /** The gravity that scaled the accelerometer, m/s^2. */
  readonly localGravityMS2: number;
  /** Rests that entered, and rests set aside because they contradict the others. */
  readonly rests: number;
  readonly restsSetAside: number;
  /** Turns between rests that entered, and turns set aside. */
  readonly turns: number;
  readonly turnsSetAside: number;
}

/**
 * One calibrated sample, without allocation.
 * @param out shape (3), may be `raw` @param raw shape (3), rad/s or m/s^2
 */
export function calibrateSample(out: Vector3, triad: TriadCalibration, raw: Vector3): Vector3 {
  const { matrix: m, bias: b } = triad;
  const x = raw[0]! - b[0]!;
  const y = raw[1]! - b[1]!;
  const z = raw[2]! - b[2]!;
  out[0] = m[0]! * x + m[1]! * y + m[2]! * z;
  out[1] = m[3]! * x + m[4]! * y + m[5]! * z;
  out[2] = m[6]! * x + m[7]! * y + m[8]! * z;
  return out;
}

/**
 * Whole columns calibrated, without allocation.
 * @param out columns to fill, may be `raw`: then in place @param raw rad/s or m/s^2, as long as `out`
 */
export function calibrateColumns(
  out: TriadColumns,
  triad: TriadCalibration,
  raw: TriadColumns,
): void {
  const { matrix: m, bias: b } = triad;
  for (let i = 0; i < raw.x.length; i++) {
    const x = raw.x[i]! - b[0]!;
    const y = raw.y[i]! - b[1]!;
    const z = raw.z[i]! - b[2]!;
    out.x[i] = m[0]! * x + m[1]! * y + m[2]! * z;
    out.y[i] = m[3]! * x + m[4]! * y + m[5]! * z;
    out.z[i] = m[6]! * x + m[7]! * y + m[8]! * z;
  }
}
