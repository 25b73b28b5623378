import type { Segment } from '../../core/arm/segments.ts';
import { type Vector3, vector3 } from '../../core/maths/vector.ts';
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

/** rad/s and m/s^2, one Vector3 per sample. */
interface Samples {
  readonly rateHz: number;
  readonly gyr: readonly Vector3[];
  readonly acc: readonly Vector3[];
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
  const count = samples.gyr.length;
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
  const gyr: Vector3[] = [];
  const acc: Vector3[] = [];
  const infos = new Map<Segment, SensorInfo>();
  for (const record of records) {
    if (record.kind === 'event') continue;
    if (record.kind === 'sensor-info') infos.set(record.segment, infoOf(record.bytes));
    else addSamples(gyr, acc, infos.get(record.segment)!, record.bytes);
  }
  return { rateHz: infos.get('implement')!.rateHz, gyr, acc };
}

function infoOf(bytes: Uint8Array): SensorInfo {
  const decoded = decodeSensorInfo(bytes);
  if (!decoded.ok) throw new Error(decoded.fault.message);
  return decoded.info;
}

function addSamples(gyr: Vector3[], acc: Vector3[], info: SensorInfo, bytes: Uint8Array): void {
  const decoded = decodeStreamPacket(bytes);
  if (!decoded.ok) throw new Error(decoded.fault.message);
  const { samples } = decoded.packet;
  const three = (from: number, scale: number) =>
    vector3(samples[from]! * scale, samples[from + 1]! * scale, samples[from + 2]! * scale);
  for (let at = 0; at < samples.length; at += 6) {
    gyr.push(three(at, info.gyroScaleRadS));
    acc.push(three(at + 3, info.accelScaleMS2));
  }
}

/** The package's own update, without the guards around it. */
function madgwick({ rateHz, gyr, acc }: Samples): void {
  const { ahrs } = createAhrs('madgwick', 1 / rateHz);
  for (let i = 0; i < gyr.length; i++) {
    const g = gyr[i]!;
    const a = acc[i]!;
    ahrs.update(g[0]!, g[1]!, g[2]!, a[0]!, a[1]!, a[2]!);
  }
}

function vqf({ rateHz, gyr, acc }: Samples): void {
  const coefficients = vqfCoefficients(1 / rateHz);
  const state = createVqf(coefficients);
  for (let i = 0; i < gyr.length; i++) {
    stepVqf(coefficients, state, gyr[i]!, acc[i]!, 1 / rateHz, true);
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
