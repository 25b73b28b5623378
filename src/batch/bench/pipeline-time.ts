import type { Segment } from '../../core/arm/segments.ts';
import { vector3 } from '../../core/maths/vector.ts';
import { createAhrs } from '../../core/orientation/ahrs-filter.ts';
import { createVqf, stepVqf, vqfCoefficients } from '../../core/orientation/vqf-filter.ts';
import { decodeSensorInfo, type SensorInfo } from '../../core/packets/sensor-info.ts';
import { decodeStreamPacket } from '../../core/packets/stream-packet.ts';
import { createPipeline, stepPipeline } from '../../core/pipeline/pipeline.ts';
import { readSet, type StoredSet } from '../../core/recording/set-reader.ts';
import { SetWriter } from '../../core/recording/set-writer.ts';
import type { BenchRow } from './bench-row.ts';
import { readDemo } from './demo-set.ts';
import { leastRounds } from './rounds.ts';

const ROUNDS = 20;
/** Goal of design.md section 13. */
const GOAL_RATIO = 4;

/** In columns: thousands of small arrays would be marked by every collection of garbage, whoever made that. */
interface Samples {
  readonly rateHz: number;
  /** rad/s and m/s^2, shape (3 count). */
  readonly gyr: Float64Array;
  readonly acc: Float64Array;
  readonly count: number;
}

/** Processor time of one sample of one sensor on its ways, against one update of the `ahrs` package on the same samples. */
export function timePipeline(): BenchRow[] {
  const demo = readDemo();
  const samples = samplesOf(demo);
  const file = write(demo);
  const contestants: readonly (readonly [string, () => void])[] = [
    ['ahrs 1.3.3, one Madgwick update', () => madgwick(samples)],
    ['our filter, one step', () => vqf(samples)],
    ['pipeline, bytes to swings, one sample', () => pipeline(demo)],
    ['set file, one sample written', () => write(demo)],
    ['set file, one sample read', () => readSet(file)],
  ];
  const times = leastRounds(
    contestants.map(([, run]) => run),
    ROUNDS,
  );
  const { count } = samples;
  return contestants.map(([what], i) => {
    const us = times[i]!;
    const ratio = us / times[0]!;
    const isMet = ratio <= GOAL_RATIO;
    const goal = i === 2 ? { text: `at most ${GOAL_RATIO} updates`, isMet } : null;
    return { what, value: (1000 * us) / count, unit: 'ns', ratio, to: 'ahrs update', goal };
  });
}

/** The samples of all three sensors one after the other, as many as the pipeline takes in. */
function samplesOf({ records }: StoredSet): Samples {
  const gyr: number[] = [];
  const acc: number[] = [];
  const infos = new Map<Segment, SensorInfo>();
  for (const record of records) {
    if (record.kind === 'event') continue;
    if (record.kind === 'sensor-info') infos.set(record.segment, infoOf(record.bytes));
    else addSamples(gyr, acc, infos.get(record.segment)!, record.bytes);
  }
  return {
    rateHz: infos.get('implement')!.rateHz,
    gyr: Float64Array.from(gyr),
    acc: Float64Array.from(acc),
    count: gyr.length / 3,
  };
}

function infoOf(bytes: Uint8Array): SensorInfo {
  const decoded = decodeSensorInfo(bytes);
  if (!decoded.ok) throw new Error(decoded.fault.message);
  return decoded.info;
}

function addSamples(gyr: number[], acc: number[], info: SensorInfo, bytes: Uint8Array): void {
  const decoded = decodeStreamPacket(bytes);
  if (!decoded.ok) throw new Error(decoded.fault.message);
  const { samples } = decoded.packet;
  for (let at = 0; at < samples.length; at += 6) {
    for (let i = at; i < at + 3; i++) {
      gyr.push(samples[i]! * info.gyroScaleRadS);
      acc.push(samples[i + 3]! * info.accelScaleMS2);
    }
  }
}

/** The package's own update, without the guards around it. */
function madgwick({ rateHz, gyr, acc }: Samples): void {
  const { ahrs } = createAhrs('madgwick', 1 / rateHz);
  for (let i = 0; i < gyr.length; i += 3) {
    ahrs.update(gyr[i]!, gyr[i + 1]!, gyr[i + 2]!, acc[i]!, acc[i + 1]!, acc[i + 2]!);
  }
}

function vqf({ rateHz, gyr, acc }: Samples): void {
  const coefficients = vqfCoefficients(1 / rateHz);
  const state = createVqf(coefficients);
  const [g, a] = [vector3(), vector3()];
  for (let i = 0; i < gyr.length; i += 3) {
    for (let k = 0; k < 3; k++) {
      g[k] = gyr[i + k]!;
      a[k] = acc[i + k]!;
    }
    stepVqf(coefficients, state, g, a, 1 / rateHz, true);
  }
}

/** Every record of the set. */
function pipeline({ description, records }: StoredSet): void {
  const state = createPipeline(description);
  for (const record of records) stepPipeline(state, record);
}

function write({ description, records }: StoredSet): Uint8Array {
  const parts: Uint8Array[] = [];
  const writer = SetWriter.open({ append: (bytes) => parts.push(bytes) }, description);
  for (const record of records) writer.append(record);
  writer.end();
  return Buffer.concat(parts);
}
