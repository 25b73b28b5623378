import { type PerSegment, SEGMENT_WORDS, SEGMENTS, type Segment } from '../arm/segments.ts';
import { DEG_PER_RAD, STANDARD_GRAVITY } from '../maths/angles.ts';
import { decodeSensorInfo } from '../packets/sensor-info.ts';
import { decodeStreamPacket } from '../packets/stream-packet.ts';
import type { CsvRecording } from './csv-recording.ts';
import { TableError } from './table-error.ts';
import { middleOf } from './table-time.ts';

/** What a table holds of one sensor. */
export interface SensorReport {
  readonly samples: number;
  /** From the median step between samples. */
  readonly rateHz: number;
  /** Steps longer than one and a half of that. */
  readonly gaps: number;
  /** 0 without gaps. */
  readonly longestGapS: number;
  readonly fastestTurnRadS: number;
  /** Median specific force of the quarter of the samples that turns slowest: about gravity. */
  readonly stillForceMS2: number;
}

/** What was read from a table. */
export interface TableReport {
  /** From the first to the last sample of any sensor. */
  readonly durationS: number;
  readonly sensors: PerSegment<SensorReport>;
  /** What looks wrong although it could be read, in words. */
  readonly doubts: readonly string[];
}

const GAP_PERIODS = 1.5;
/** Off by more than this the force of a still sensor is another unit, or no specific force. */
const WRONG_FACTOR = 2;
/** Off by more than this share it is worth a word: a bad calibration, or a part in motion all the time. */
const STRAYS = 0.15;
/** A strike turns the implement several times as fast as this. */
const SLOWEST_STRIKE_RAD_S = 100 / DEG_PER_RAD;
/** Gyroscopes worn on arms end at 4000 deg/s; some room for scale. */
const FASTEST_RAD_S = 4500 / DEG_PER_RAD;

/**
 * Reads a table that has become a recording once more, sample by sample.
 * @throws TableError when a still sensor does not feel gravity, since then nothing that follows would be true
 * Checked: tests/recording/table-preview.test.ts
 */
export function reportTable({ records }: CsvRecording): TableReport {
  const read = SEGMENTS.map((segment) => readSamples(records, segment));
  const [upperArm, forearm, implement] = read.map(reportSensor) as [
    SensorReport,
    SensorReport,
    SensorReport,
  ];
  const sensors = { upperArm, forearm, implement };
  const endUs = Math.max(...read.map(({ timeUs }) => timeUs.at(-1)!));
  const startUs = Math.min(...read.map(({ timeUs }) => timeUs[0]!));
  return {
    durationS: (endUs - startUs) / 1e6,
    sensors,
    doubts: [
      ...SEGMENTS.flatMap((segment) => doubtsOfSensor(segment, sensors[segment])),
      ...(implement.fastestTurnRadS < SLOWEST_STRIKE_RAD_S ? [tooSlow(implement)] : []),
      ...(records.some(({ kind, hostTimeUs }) => kind === 'event' && hostTimeUs > endUs)
        ? ['The poses are to begin after the last row. Correct their time.']
        : []),
    ],
  };
}

interface Samples {
  /** Since the first row of the table, microseconds. */
  readonly timeUs: readonly number[];
  readonly turnRadS: readonly number[];
  readonly forceMS2: readonly number[];
}

function readSamples(records: CsvRecording['records'], segment: Segment): Samples {
  const timeUs: number[] = [];
  const turnRadS: number[] = [];
  const forceMS2: number[] = [];
  let scales: readonly [gyro: number, accel: number] = [Number.NaN, Number.NaN];
  for (const record of records) {
    if (record.kind === 'event' || record.segment !== segment) continue;
    if (record.kind === 'sensor-info') {
      const decoded = decodeSensorInfo(record.bytes);
      if (decoded.ok) scales = [decoded.info.gyroScaleRadS, decoded.info.accelScaleMS2];
      continue;
    }
    const decoded = decodeStreamPacket(record.bytes);
    if (!decoded.ok) continue;
    const { samples, spanTicks } = decoded.packet;
    const count = samples.length / 6;
    for (let i = 0; i < count; i++) {
      // Ticks are microseconds, and a packet arrives with its last sample: csv-recording.ts.
      const behind = count === 1 ? 0 : spanTicks * (1 - i / (count - 1));
      timeUs.push(record.hostTimeUs - behind);
      turnRadS.push(scales[0] * sizeAt(samples, 6 * i));
      forceMS2.push(scales[1] * sizeAt(samples, 6 * i + 3));
    }
  }
  return { timeUs, turnRadS, forceMS2 };
}

function sizeAt(samples: Int16Array, at: number): number {
  return Math.hypot(samples[at]!, samples[at + 1]!, samples[at + 2]!);
}

function reportSensor({ timeUs, turnRadS, forceMS2 }: Samples): SensorReport {
  const steps = Float64Array.from(
    { length: timeUs.length - 1 },
    (_, i) => timeUs[i + 1]! - timeUs[i]!,
  );
  const periodUs = middleOf(steps);
  const gaps = steps.filter((step) => step > GAP_PERIODS * periodUs);
  const slow = Float64Array.from(turnRadS).sort()[turnRadS.length >> 2]!;
  const still = Float64Array.from(forceMS2.filter((_, i) => turnRadS[i]! <= slow));
  return {
    samples: timeUs.length,
    rateHz: 1e6 / periodUs,
    gaps: gaps.length,
    longestGapS: gaps.reduce((longest, gap) => Math.max(longest, gap), 0) / 1e6,
    fastestTurnRadS: turnRadS.reduce((most, turn) => Math.max(most, turn), 0),
    stillForceMS2: middleOf(still),
  };
}

function doubtsOfSensor(segment: Segment, sensor: SensorReport): readonly string[] {
  const { stillForceMS2, fastestTurnRadS } = sensor;
  const share = stillForceMS2 / STANDARD_GRAVITY;
  const felt = `While it hardly turns, the ${SEGMENT_WORDS[segment]} sensor feels ${stillForceMS2.toPrecision(3)} m/s², where gravity is 9.81.`;
  if (share > WRONG_FACTOR || share < 1 / WRONG_FACTOR) {
    throw new TableError(`${felt} ${likelyCause(share)}`);
  }
  return [
    ...(Math.abs(share - 1) > STRAYS ? [`${felt} Check its columns and its calibration.`] : []),
    ...(fastestTurnRadS > FASTEST_RAD_S
      ? [
          `The ${SEGMENT_WORDS[segment]} sensor turns at up to ${degS(fastestTurnRadS)}, more than sensors measure. Is the gyroscopes' unit right?`,
        ]
      : []),
  ];
}

/** @param share of gravity that was felt */
function likelyCause(share: number): string {
  if (isAbout(share * STANDARD_GRAVITY)) {
    return "The accelerometers' unit seems to be g: choose it.";
  }
  if (isAbout(share / STANDARD_GRAVITY)) {
    return "The accelerometers' unit seems to be m/s²: choose it.";
  }
  return "Check the accelerometers' unit and columns; values without gravity cannot be used.";
}

function isAbout(factor: number): boolean {
  return factor > 1 / WRONG_FACTOR && factor < WRONG_FACTOR;
}

function tooSlow({ fastestTurnRadS }: SensorReport): string {
  return `The implement never turns faster than ${degS(fastestTurnRadS)}; a strike is several hundred. Is the gyroscopes' unit rad/s, or were columns mixed up?`;
}

function degS(radS: number): string {
  const value = radS * DEG_PER_RAD;
  return `${value < 10 ? value.toPrecision(2) : Math.round(value)} deg/s`;
}
