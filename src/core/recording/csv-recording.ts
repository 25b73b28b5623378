import { SEGMENT_WORDS, SEGMENTS, type Segment, segmentIndex } from '../arm/segments.ts';
import { encodeSensorInfo } from '../packets/sensor-info.ts';
import { encodeStreamPacket } from '../packets/stream-packet.ts';
import { readCsvColumns } from './csv-columns.ts';
import { CsvError } from './csv-error.ts';
import type { CsvMapping } from './csv-mapping.ts';
import type { SetDescription } from './set-description.ts';
import type { SetRecord } from './set-record.ts';

const SAMPLES_PER_PACKET = 10;
const TICK_HZ = 1_000_000;
/** Largest int16 used: stays clear of the ends, where a sensor would be clipping. */
const FULL_SCALE = 32_000;
/** A range of zero is not allowed: least full scale, rad/s and m/s^2. */
const LEAST_GYRO_RAD_S = Math.PI / 180;
const LEAST_ACCEL_MS2 = 1;
const G_MS2 = 9.80665;
/** A packet says only where it begins and ends; samples this far off even spacing, in sample periods, start a new one. */
const SPACING_TOLERANCE = 0.1;
/** A longer step, in sample periods, is a gap. */
const GAP_PERIODS = 1.5;
const MIN_RATE_HZ = 10;
const MAX_RATE_HZ = 4_000;
const UINT16_MAX = 0xffff;

/** A table as a recording. */
export interface CsvRecording {
  readonly description: SetDescription;
  readonly records: readonly SetRecord[];
}

/**
 * A table of three sensors' samples as the records of a set, encoded as packets of 10 samples so
 * that it runs through the same pipeline as radio bytes. Each packet arrives when its last sample
 * was taken. Rows without a value for a sensor are gaps of that sensor.
 *
 * Losses: values are rounded to int16 with the sensor's own largest value at 32 000, so the error
 * is at most 1/64 000 of that value (plus float32 rounding of the scale, 6e-8 of the value);
 * times are rounded to 1 us, and within a packet to even spacing, at most 0.1 sample periods off.
 * @param text the whole table with one header line
 * @param mapping see readCsvMapping
 * @throws CsvError saying which line and column, and what to do
 */
export function recordingFromCsv(text: string, mapping: CsvMapping): CsvRecording {
  const { startTime, timeUs, values } = readCsvColumns(text, mapping);
  const periodUs = samplePeriodUs(timeUs);
  const records: SetRecord[] = [];
  for (const segment of SEGMENTS) {
    // one by one: as arguments of one call they would overflow the stack
    for (const record of sensorRecords(segment, timeUs, values[segment], periodUs))
      records.push(record);
  }
  for (const time of mapping.zeroRequestedAt) {
    const hostTimeUs = Math.max(0, Math.round((time - startTime) * mapping.timeUnitUs));
    records.push({ kind: 'event', hostTimeUs, event: { type: 'zero-requested' } });
  }
  // Stable: at the same time, sensor information stays before packets.
  records.sort((a, b) => a.hostTimeUs - b.hostTimeUs);
  records.push({ kind: 'event', hostTimeUs: timeUs.at(-1)!, event: { type: 'set-ended' } });
  return { description: mapping.description, records };
}

/** Median step of the table, which gaps and jitter leave alone. */
function samplePeriodUs(timeUs: Float64Array): number {
  if (timeUs.length < 2) {
    throw new CsvError(
      'too-few-rows',
      `The table has ${timeUs.length} rows of values; at least 2 are needed. Choose a longer recording.`,
    );
  }
  const steps = Float64Array.from(
    { length: timeUs.length - 1 },
    (_, i) => timeUs[i + 1]! - timeUs[i]!,
  );
  const periodUs = steps.sort()[steps.length >> 1]!;
  const rateHz = 1e6 / periodUs;
  if (rateHz < MIN_RATE_HZ || rateHz > MAX_RATE_HZ) {
    throw new CsvError(
      'implausible-rate',
      `The rows come at ${rateHz.toPrecision(3)} per second; ${MIN_RATE_HZ} to ${MAX_RATE_HZ} are read. Check "time" and "timeUnit" in the mapping.`,
    );
  }
  return periodUs;
}

function sensorRecords(
  segment: Segment,
  timeUs: Float64Array,
  values: Float64Array,
  periodUs: number,
): SetRecord[] {
  const rows = rowsWithValues(values);
  if (rows.length < 2) {
    throw new CsvError(
      'too-few-rows',
      `The ${SEGMENT_WORDS[segment]} sensor has values in ${rows.length} rows; at least 2 are needed. Check its columns in the mapping.`,
    );
  }
  const scales = scalesFor(segment, values, rows);
  const records: SetRecord[] = [
    { kind: 'sensor-info', segment, hostTimeUs: 0, bytes: infoBytes(segment, scales, periodUs) },
  ];
  let sequence = 0;
  for (let from = 0; from < rows.length; ) {
    const to = packetEnd(rows, from, timeUs, periodUs);
    const [first, last] = [rows[from]!, rows[to - 1]!];
    const bytes = encodeStreamPacket({
      clipped: false,
      dropped: from > 0 && timeUs[first]! - timeUs[rows[from - 1]!]! > GAP_PERIODS * periodUs,
      resent: false,
      sequence,
      firstTick: timeUs[first]! % 2 ** 32,
      spanTicks: timeUs[last]! - timeUs[first]!,
      samples: quantised(values, rows.subarray(from, to), scales),
      magnetometer: null,
    });
    records.push({ kind: 'notification', segment, hostTimeUs: timeUs[last]!, bytes });
    sequence = (sequence + 1) & UINT16_MAX;
    from = to;
  }
  return records;
}

/** Rows where the sensor has all six values. */
function rowsWithValues(values: Float64Array): Int32Array {
  const rows: number[] = [];
  for (let row = 0; row < values.length / 6; row++) {
    if (values.subarray(6 * row, 6 * row + 6).every(Number.isFinite)) rows.push(row);
  }
  return Int32Array.from(rows);
}

/** End (exclusive) of the longest packet from `from` whose samples are evenly spaced. */
function packetEnd(rows: Int32Array, from: number, timeUs: Float64Array, periodUs: number): number {
  const start = timeUs[rows[from]!]!;
  let end = from + 1;
  for (; end < rows.length && end - from < SAMPLES_PER_PACKET; end++) {
    const span = timeUs[rows[end]!]! - start;
    if (span - (timeUs[rows[end - 1]!]! - start) > GAP_PERIODS * periodUs) break;
    let worst = 0;
    for (let i = from; i < end; i++) {
      const even = (span * (i - from)) / (end - from);
      worst = Math.max(worst, Math.abs(timeUs[rows[i]!]! - start - even));
    }
    if (worst > SPACING_TOLERANCE * periodUs) break;
  }
  return end;
}

interface Scales {
  readonly gyroRadS: number;
  readonly accelMS2: number;
}

function scalesFor(segment: Segment, values: Float64Array, rows: Int32Array): Scales {
  let gyro = LEAST_GYRO_RAD_S;
  let accel = LEAST_ACCEL_MS2;
  for (const row of rows) {
    for (let axis = 0; axis < 3; axis++) {
      gyro = Math.max(gyro, Math.abs(values[6 * row + axis]!));
      accel = Math.max(accel, Math.abs(values[6 * row + 3 + axis]!));
    }
  }
  if (degrees(gyro) > UINT16_MAX / 2 || accel / G_MS2 > UINT16_MAX / 2) {
    throw new CsvError(
      'implausible-values',
      `The ${SEGMENT_WORDS[segment]} sensor reaches ${degrees(gyro).toPrecision(3)} deg/s and ${(accel / G_MS2).toPrecision(3)} g, more than any sensor measures. Check "gyroUnit" and "accelUnit" in the mapping.`,
    );
  }
  return { gyroRadS: Math.fround(gyro / FULL_SCALE), accelMS2: Math.fround(accel / FULL_SCALE) };
}

function quantised(values: Float64Array, rows: Int32Array, scales: Scales): Int16Array {
  const samples = new Int16Array(6 * rows.length);
  rows.forEach((row, i) => {
    for (let axis = 0; axis < 6; axis++) {
      const scale = axis < 3 ? scales.gyroRadS : scales.accelMS2;
      samples[6 * i + axis] = Math.round(values[6 * row + axis]! / scale);
    }
  });
  return samples;
}

function infoBytes(segment: Segment, scales: Scales, periodUs: number): Uint8Array {
  const rateHz = Math.round(1e6 / periodUs);
  return encodeSensorInfo({
    protocolVersion: 1,
    serial: `000000000000000${segmentIndex(segment) + 1}`,
    firmwareVersion: '0.0.0',
    tickHz: TICK_HZ,
    rateHz,
    supportedRatesHz: [rateHz],
    gyroRangeDegS: Math.ceil(degrees(scales.gyroRadS * 0x7fff)),
    accelRangeG: Math.ceil((scales.accelMS2 * 0x7fff) / G_MS2),
    gyroScaleRadS: scales.gyroRadS,
    accelScaleMS2: scales.accelMS2,
    resendPackets: 0,
    magnetometerScaleT: null,
  });
}

function degrees(rad: number): number {
  return (rad * 180) / Math.PI;
}
