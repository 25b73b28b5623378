import { readFileSync } from 'node:fs';
import { cpuUsage } from 'node:process';
import type { Segment } from '../core/arm/segments.ts';
import { type Vector3, vector3 } from '../core/maths/vector.ts';
import { createAhrs } from '../core/orientation/ahrs-filter.ts';
import { createVqf, stepVqf, vqfCoefficients } from '../core/orientation/vqf-filter.ts';
import { decodeSensorInfo, type SensorInfo } from '../core/packets/sensor-info.ts';
import { decodeStreamPacket } from '../core/packets/stream-packet.ts';
import { createPipeline, stepPipeline } from '../core/pipeline/pipeline.ts';
import { readSet, type StoredSet } from '../core/recording/set-reader.ts';
import { textTable } from '../reports/text-table.ts';

const FILE = 'recorded-streams/player-a-short-racket.mcap';
/** The contestants alternate; the least disturbed round of each counts, after the compiler has finished. */
const ROUNDS = 20;
/** Goal of design.md section 13. */
const GOAL_RATIO = 4;

/** rad/s and m/s^2, one Vector3 per sample. */
interface Samples {
  readonly rateHz: number;
  readonly gyr: readonly Vector3[];
  readonly acc: readonly Vector3[];
}

interface Contestant {
  readonly name: string;
  readonly run: () => void;
  readonly timesUs: number[];
}

function readDemo(): StoredSet {
  const result = readSet(readFileSync(FILE));
  if (!result.ok) throw new Error(`${FILE}: ${result.error.message}`);
  return result.set;
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

/** Every record of the set; answers the samples of all three sensors and the swings. */
function pipeline({ description, records }: StoredSet): { samples: number; swings: number } {
  const state = createPipeline(description);
  for (const record of records) stepPipeline(state, record);
  const samples = state.intakes.reduce((sum, { track }) => sum + (track?.count ?? 0), 0);
  return { samples, swings: state.swings.length };
}

const demo = readDemo();
const samples = samplesOf(demo);
const whole = pipeline(demo);
const contestants = [
  contestant('ahrs 1.3.3, one Madgwick update', () => madgwick(samples)),
  contestant('our filter, one step', () => vqf(samples)),
  contestant('pipeline, bytes to swings', () => pipeline(demo)),
] as const;
for (let round = 0; round < ROUNDS; round++) {
  for (const { run, timesUs } of contestants) {
    const before = cpuUsage();
    run();
    const { user, system } = cpuUsage(before);
    timesUs.push(user + system);
  }
}
const perSampleNs = contestants.map(({ timesUs }) => {
  const sorted = [...timesUs].sort((a, b) => a - b);
  return [sorted[0]!, sorted[ROUNDS / 2]!].map((us) => (1000 * us) / whole.samples);
});
const ratios = perSampleNs.map(([least]) => least! / perSampleNs[0]![0]!);
console.log(`${FILE}: ${whole.samples} samples of three sensors, ${whole.swings} swings.
Processor time per sensor sample, nanoseconds, over ${ROUNDS} rounds; ratio of the least ones.
`);
console.log(
  textTable(
    ['what', 'least', 'median', 'ratio'],
    contestants.map(({ name }, i) => [
      name,
      ...perSampleNs[i]!.map((ns) => ns.toFixed(0)),
      ratios[i]!.toFixed(2),
    ]),
  ),
);
const isMet = ratios[2]! <= GOAL_RATIO;
console.log(
  `\nGoal: pipeline at most ${GOAL_RATIO} times the update: ${isMet ? 'met' : 'missed'}.`,
);

function contestant(name: string, run: () => void): Contestant {
  return { name, run, timesUs: [] };
}
