import type { LeastSquaresProblem } from '../maths/levenberg-marquardt.ts';
import {
  fromRotationVector,
  multiply,
  type Quaternion,
  quaternion,
  rotate,
  rotateInverse,
} from '../maths/quaternion.ts';
import { cross, type Vector3, vector3 } from '../maths/vector.ts';
import type { BenchRecording } from './bench-recording.ts';
import { fitSettingAside, type RobustFit } from './robust-fit.ts';

/** A turn from one rest to the next, between samples. */
export interface Turn {
  readonly from: number;
  readonly to: number;
  /** Direction of the specific force felt at its two ends, calibrated, unit length, shape (3). */
  readonly upFrom: Vector3;
  readonly upTo: Vector3;
}

/**
 * Parameters: the matrix, row-major (3, 3), then how far the bias has moved since the first rest, rad/s: a
 * sensor warms in the hand. The move is only there to be kept out of the matrix.
 */
export const GYRO_PARAMETERS = 12;
const PERFECT = [1, 0, 0, 0, 1, 0, 0, 0, 1, 0, 0, 0];

/**
 * Gyroscope calibration from turns: the direction of gravity, carried through a turn by the calibrated
 * rates, must be the one the accelerometer feels after it.
 * @param gyroBias rad/s, shape (3)
 * Source: Tedaldi, Pretto & Menegatti 2014, doi 10.1109/ICRA.2014.6907297; integration by the exponential map
 * of the mean rate of each step (there: fourth-order Runge-Kutta), of which the Jacobian is exact to second order.
 */
export function fitGyroscope(
  recording: BenchRecording,
  turns: readonly Turn[],
  gyroBias: Vector3,
): RobustFit<Turn> {
  return fitSettingAside(
    turns,
    // differences of unit vectors lie, nearly, in a plane
    { rows: 3, independent: 2 },
    (kept) => directionProblem(recording, kept, gyroBias),
    PERFECT,
  );
}

function directionProblem(
  recording: BenchRecording,
  turns: readonly Turn[],
  gyroBias: Vector3,
): LeastSquaresProblem {
  const qStartFromEnd = quaternion();
  const sensitivity = new Float64Array(3 * GYRO_PARAMETERS);
  const carried = vector3();
  const change = vector3();
  return {
    residualCount: 3 * turns.length,
    evaluate(parameters, residuals, jacobian) {
      turns.forEach((turn, k) => {
        integrate(qStartFromEnd, sensitivity, recording, turn, parameters, gyroBias);
        rotateInverse(carried, qStartFromEnd, turn.upFrom);
        for (let i = 0; i < 3; i++) residuals[3 * k + i] = carried[i]! - turn.upTo[i]!;
        for (let j = 0; j < GYRO_PARAMETERS; j++) {
          // a small turn s of the end, seen from the start, moves the carried direction by R' (up x s)
          cross(change, turn.upFrom, sensitivity.subarray(3 * j, 3 * j + 3));
          rotateInverse(change, qStartFromEnd, change);
          for (let i = 0; i < 3; i++) jacobian[(3 * k + i) * GYRO_PARAMETERS + j] = change[i]!;
        }
      });
    },
  };
}

const halfTurn = quaternion();
const unit = vector3();
const axis = vector3();

/**
 * Integrates the calibrated rates over a turn.
 * @param qStartFromEnd to fill @param sensitivity to fill, (12, 3): for each parameter the small turn of the end,
 * in the frame of the start, per unit of it: integral of R e_i w_j dt for the element (i, j) of the matrix,
 * of -R e_i dt for the bias
 */
function integrate(
  qStartFromEnd: Quaternion,
  sensitivity: Float64Array,
  recording: BenchRecording,
  turn: Turn,
  parameters: Float64Array,
  gyroBias: Vector3,
): void {
  const { timeS, gyro } = recording;
  const q = qStartFromEnd;
  q.set([1, 0, 0, 0]);
  sensitivity.fill(0);
  const m = parameters;
  for (let i = turn.from; i < turn.to; i++) {
    const half = (timeS[i + 1]! - timeS[i]!) / 2;
    const x = half * (gyro.x[i]! + gyro.x[i + 1]! - 2 * gyroBias[0]!);
    const y = half * (gyro.y[i]! + gyro.y[i + 1]! - 2 * gyroBias[1]!);
    const z = half * (gyro.z[i]! + gyro.z[i + 1]! - 2 * gyroBias[2]!);
    fromRotationVector(
      halfTurn,
      (m[0]! * x + m[1]! * y + m[2]! * z) / 2 - half * m[9]!,
      (m[3]! * x + m[4]! * y + m[5]! * z) / 2 - half * m[10]!,
      (m[6]! * x + m[7]! * y + m[8]! * z) / 2 - half * m[11]!,
    );
    multiply(q, q, halfTurn);
    for (let row = 0; row < 3; row++) {
      unit.fill(0);
      unit[row] = 1;
      rotate(axis, q, unit);
      for (let k = 0; k < 3; k++) {
        const at = 9 * row + k;
        sensitivity[at] = sensitivity[at]! + axis[k]! * x;
        sensitivity[at + 3] = sensitivity[at + 3]! + axis[k]! * y;
        sensitivity[at + 6] = sensitivity[at + 6]! + axis[k]! * z;
        const shift = 27 + 3 * row + k;
        sensitivity[shift] = sensitivity[shift]! - axis[k]! * 2 * half;
      }
    }
    multiply(q, q, halfTurn);
  }
}
