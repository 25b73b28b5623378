import { DEG_PER_RAD, RAD_PER_DEG } from '../maths/angles.ts';
import {
  type BenchRecording,
  columnsOf,
  durationS,
  meanOver,
  type SampleSpan,
} from './bench-recording.ts';
import { type Refusal, refuse } from './calibration-fault.ts';
import { stillSpans, varianceMagnitude } from './stillness.ts';

/** What the long rest at the beginning tells. */
export interface InitialRest {
  readonly ok: true;
  readonly span: SampleSpan;
  /** Gyroscope bias and its standard error, rad/s, shape (3). */
  readonly gyroBias: Float64Array;
  readonly gyroBiasSE: Float64Array;
  /** Usual variance magnitude of the resting accelerometer, (m/s^2)^2. */
  readonly accelVariance: number;
}

/** The paper rests about 50 s; half a minute or less serves a part whose bias needs no better than 0.01 deg/s. */
export const INITIAL_REST_S = 20;
/** Spells of rest so close together are one rest with a knock in it. */
const KNOCK_S = 4;
/** A part on a table is stiller than this, a hand never is: SD over half a second. */
export const STILL_GYRO_RAD_S = 0.5 * RAD_PER_DEG;
export const STILL_ACCEL_MS2 = 0.15;
/** Clusters of a ninth of the rest: the longest with eight differences to average. */
const CLUSTERS = 9;
/** Allan deviation between clusters of two seconds and more: ordinary parts stay below 0.015 deg/s. */
const MOST_DRIFT_RAD_S = 0.03 * RAD_PER_DEG;
/** Gravity may not wander more than this between the first and the last third: 0.3 deg of tilt. */
const MOST_TILT_MS2 = 0.05;
const AGAIN =
  'Lay the sensor on a firm table, start, and leave it alone for 30 s before the first turn.';

/**
 * Finds the first long rest and reads bias and noise from it.
 * Source: Tedaldi, Pretto & Menegatti 2014, doi 10.1109/ICRA.2014.6907297; Allan 1966,
 * doi 10.1109/PROC.1966.4634, for the standard error of the bias: it sees drift where the sample SD does not.
 */
export function findInitialRest(recording: BenchRecording): InitialRest | Refusal {
  const { timeS, gyro, accel } = recording;
  const accelVariance = varianceMagnitude(accel, timeS);
  const gyroVariance = varianceMagnitude(gyro, timeS);
  // one number that is below 1 where both are still
  const unrest = accelVariance.map((a, i) =>
    Math.max(a / STILL_ACCEL_MS2 ** 2, gyroVariance[i]! / STILL_GYRO_RAD_S ** 2),
  );
  const spans = stillSpans(recording, unrest, 1);
  const span = spans.find((s) => durationS(recording, s) >= INITIAL_REST_S);
  if (span === undefined) return refuseShort(recording, spans);
  const gyroBias = meanOver(gyro, span);
  const deviation = Float64Array.from(columnsOf(gyro), (column) => allanDeviation(column, span));
  const moved = describeMovement(recording, span, deviation);
  if (moved !== null) return refuse('moved-in-initial-rest', `${moved} ${AGAIN}`);
  return {
    ok: true,
    span,
    gyroBias,
    gyroBiasSE: deviation.map((d) => d / Math.sqrt(CLUSTERS)),
    accelVariance: Math.max(
      median(accelVariance.subarray(span.start, span.end)),
      quantisationVariance(recording.accelRangeMS2),
    ),
  };
}

function refuseShort(recording: BenchRecording, spans: readonly SampleSpan[]): Refusal {
  const { timeS } = recording;
  const knocked = spans.findIndex((s, k) => {
    const before = spans[k - 1];
    if (before === undefined) return false;
    const near = timeS[s.start]! - timeS[before.end - 1]! < KNOCK_S;
    return near && timeS[s.end - 1]! - timeS[before.start]! >= INITIAL_REST_S;
  });
  if (knocked > 0) {
    const atS = timeS[spans[knocked - 1]!.end - 1]! - timeS[0]!;
    return refuse(
      'moved-in-initial-rest',
      `The sensor was moved ${atS.toFixed(0)} s after the start, during its first rest. ${AGAIN}`,
    );
  }
  const longestS = Math.max(0, ...spans.map((s) => durationS(recording, s)));
  return refuse(
    'initial-rest-too-short',
    `The longest rest on a table lasted ${longestS.toFixed(0)} s; ${INITIAL_REST_S} s are needed once, first. ${AGAIN}`,
  );
}

/** What moved during the rest, or null. */
function describeMovement(
  recording: BenchRecording,
  span: SampleSpan,
  deviation: Float64Array,
): string | null {
  const third = Math.floor((span.end - span.start) / 3);
  const first = meanOver(recording.accel, { start: span.start, end: span.start + third });
  const last = meanOver(recording.accel, { start: span.end - third, end: span.end });
  if (Math.hypot(...first.map((f, i) => f - last[i]!)) > MOST_TILT_MS2) {
    return 'The sensor tilted during its first rest.';
  }
  const drift = Math.max(...deviation);
  if (drift > MOST_DRIFT_RAD_S) {
    return `The gyroscope drifted by ${(drift * DEG_PER_RAD).toFixed(3)} deg/s during the first rest: the sensor turned, or is still warming up.`;
  }
  return null;
}

/** Allan deviation between clusters of 1/CLUSTERS of the span. */
function allanDeviation(column: Float64Array, span: SampleSpan): number {
  const size = Math.floor((span.end - span.start) / CLUSTERS);
  const means = Array.from({ length: CLUSTERS }, (_, k) => {
    const cluster = column.subarray(span.start + k * size, span.start + (k + 1) * size);
    return cluster.reduce((sum, value) => sum + value / size, 0);
  });
  const squares = means.slice(1).map((mean, k) => (mean - means[k]!) ** 2);
  return Math.sqrt(squares.reduce((sum, s) => sum + s, 0) / (2 * squares.length));
}

/** Variance magnitude of rounding to int16 over the range: no part is quieter than its own steps. */
function quantisationVariance(range: number): number {
  return (Math.sqrt(3) * (range / 32768) ** 2) / 12;
}

function median(values: Float64Array): number {
  return values.toSorted()[Math.floor(values.length / 2)]!;
}
