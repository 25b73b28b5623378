import { type BenchRecording, meanOver } from '../calibration/bench-recording.ts';
import { findInitialRest } from '../calibration/initial-rest.ts';
import { findRests } from '../calibration/rests.ts';
import {
  calibrateSample,
  type SensorCalibration,
  type TriadCalibration,
} from '../calibration/sensor-calibration.ts';
import { varianceMagnitude } from '../calibration/stillness.ts';
import { turnsBetween } from '../calibration/turns.ts';
import { fromRotationVector, multiply, quaternion, rotateInverse } from '../maths/quaternion.ts';
import { angleBetween, vector3 } from '../maths/vector.ts';

/** Root mean square misfit of one triad without and with its calibration. */
export interface BeforeAfter {
  readonly before: number;
  readonly after: number;
}

/** What a calibration is worth on the recording it comes from. */
export interface CalibrationGain {
  /** Size of the specific force at rest against gravity, m/s^2. */
  readonly gravity: BeforeAfter;
  /** Direction of gravity after a turn, as the gyroscope carried it there, against the one felt, rad. */
  readonly turn: BeforeAfter;
}

/** As sure to find the rests as any of the calibration's thresholds; a few spoiled ones count on both sides. */
const MULTIPLIER = 512;
const UNCALIBRATED: TriadCalibration = {
  matrix: [1, 0, 0, 0, 1, 0, 0, 0, 1],
  bias: [0, 0, 0],
  matrixSE: [0, 0, 0, 0, 0, 0, 0, 0, 0],
  biasSE: [0, 0, 0],
  residualRms: 0,
};

/**
 * Misfit before and after, over the same rests and turns. The gyroscope's bias at the first rest is taken off on both
 * sides: a set finds it by itself.
 * @returns null when the recording has no first rest, or no turn
 * Checked: tests/kit/calibration-look.test.ts against the errors of simulated parts.
 */
export function calibrationGain(
  recording: BenchRecording,
  calibration: SensorCalibration,
): CalibrationGain | null {
  const initial = findInitialRest(recording);
  if (!initial.ok) return null;
  const variance = varianceMagnitude(recording.accel, recording.timeS);
  const threshold = MULTIPLIER * initial.accelVariance;
  const rests = findRests(recording, variance, threshold, initial.gyroBias);
  const bias = Array.from(meanOver(recording.gyro, initial.span));
  const onlyBias = { ...UNCALIBRATED, bias };
  const misfit = (accelerometer: TriadCalibration, gyroscope: TriadCalibration) => {
    const turns = turnsBetween(recording, rests, accelerometer);
    return {
      gravity: rms(
        rests.map(({ force }) => {
          const size = Math.hypot(...calibrateSample(vector3(), accelerometer, force));
          return size - calibration.localGravityMS2;
        }),
      ),
      turn: rms(
        turns.map(({ from, to, upFrom, upTo }) => {
          const qStartFromEnd = turned(recording, from, to, gyroscope);
          return angleBetween(rotateInverse(vector3(), qStartFromEnd, upFrom), upTo);
        }),
      ),
    };
  };
  const before = misfit(UNCALIBRATED, onlyBias);
  const after = misfit(calibration.accelerometer, calibration.gyroscope);
  if (Number.isNaN(before.turn)) return null;
  return {
    gravity: { before: before.gravity, after: after.gravity },
    turn: { before: before.turn, after: after.turn },
  };
}

/** NaN of nothing. */
function rms(values: readonly number[]): number {
  return Math.sqrt(values.reduce((sum, v) => sum + v * v, 0) / values.length);
}

/** How the sensor turned between two samples, by the exponential map of the mean rate of each step. */
function turned(
  { timeS, gyro }: BenchRecording,
  from: number,
  to: number,
  gyroscope: TriadCalibration,
) {
  const q = quaternion();
  const step = quaternion();
  const rate = vector3();
  for (let i = from; i < to; i++) {
    rate[0] = (gyro.x[i]! + gyro.x[i + 1]!) / 2;
    rate[1] = (gyro.y[i]! + gyro.y[i + 1]!) / 2;
    rate[2] = (gyro.z[i]! + gyro.z[i + 1]!) / 2;
    calibrateSample(rate, gyroscope, rate);
    const stepS = timeS[i + 1]! - timeS[i]!;
    multiply(q, q, fromRotationVector(step, stepS * rate[0]!, stepS * rate[1]!, stepS * rate[2]!));
  }
  return q;
}
