import { fromRotationVector, multiply, quaternion, rotate } from '../maths/quaternion.ts';
import { type Vector3, vector3 } from '../maths/vector.ts';
import { type BenchRecording, durationS, type SampleSpan } from './bench-recording.ts';
import { stillSpans } from './stillness.ts';

/** One rest of the sensor in one orientation. */
export interface Rest {
  readonly span: SampleSpan;
  /** The sample whose orientation `force` belongs to: the middle one. */
  readonly middle: number;
  /** Mean uncalibrated specific force, m/s^2, shape (3). */
  readonly force: Vector3;
}

/** A rest lasts at least this long, s: shorter, and the tremor of a hand does not average out. */
export const MIN_REST_S = 1;

/** Of a longer rest, above all the first, the end counts: the turn after it starts there, s. */
const MAX_REST_S = 5;

/**
 * The rests for one threshold of the static detector.
 * @param accelVariance from varianceMagnitude, (m/s^2)^2 @param threshold same unit
 * @param gyroBias rad/s, shape (3)
 */
export function findRests(
  recording: BenchRecording,
  accelVariance: Float64Array,
  threshold: number,
  gyroBias: Vector3,
): Rest[] {
  return stillSpans(recording, accelVariance, threshold)
    .filter((span) => durationS(recording, span) >= MIN_REST_S)
    .map((whole) => {
      const span = lastOf(recording, whole);
      const middle = (span.start + span.end) >> 1;
      return { span, middle, force: meanForce(recording, span, middle, gyroBias) };
    });
}

function lastOf({ timeS }: BenchRecording, span: SampleSpan): SampleSpan {
  let start = span.end - 1;
  while (start > span.start && timeS[span.end - 1]! - timeS[start - 1]! <= MAX_REST_S) start--;
  return { start, end: span.end };
}

/**
 * Mean specific force over a rest. A hand does not hold quite still, so the gyroscope carries every sample
 * into the orientation of the middle one; its scale errors do not matter over such small turns.
 */
function meanForce(
  recording: BenchRecording,
  span: SampleSpan,
  middle: number,
  gyroBias: Vector3,
): Vector3 {
  const sum = vector3();
  addCarried(sum, recording, middle, span.end - 1, gyroBias);
  addCarried(sum, recording, middle, span.start, gyroBias);
  // the middle one was added by both
  const { x, y, z } = recording.accel;
  const count = span.end - span.start;
  sum[0] = (sum[0]! - x[middle]!) / count;
  sum[1] = (sum[1]! - y[middle]!) / count;
  sum[2] = (sum[2]! - z[middle]!) / count;
  return sum;
}

/** Adds the samples from `middle` to `last` (before or after it), each turned into the middle's orientation. */
function addCarried(
  sum: Vector3,
  recording: BenchRecording,
  middle: number,
  last: number,
  gyroBias: Vector3,
): void {
  const { timeS, gyro, accel } = recording;
  const qMiddleFromSensor = quaternion();
  const turn = quaternion();
  const force = vector3();
  const step = last > middle ? 1 : -1;
  for (let i = middle; ; i += step) {
    const q = qMiddleFromSensor;
    force[0] = accel.x[i]!;
    force[1] = accel.y[i]!;
    force[2] = accel.z[i]!;
    rotate(force, q, force);
    for (let k = 0; k < 3; k++) sum[k] = sum[k]! + force[k]!;
    if (i === last) return;
    const half = (timeS[i + step]! - timeS[i]!) / 2;
    fromRotationVector(
      turn,
      half * (gyro.x[i]! + gyro.x[i + step]! - 2 * gyroBias[0]!),
      half * (gyro.y[i]! + gyro.y[i + step]! - 2 * gyroBias[1]!),
      half * (gyro.z[i]! + gyro.z[i + step]! - 2 * gyroBias[2]!),
    );
    multiply(q, q, turn);
  }
}
