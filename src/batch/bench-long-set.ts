import { closeSync, mkdtempSync, openSync, readFileSync, rmSync, writeSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { deserialize, serialize, setFlagsFromString } from 'node:v8';
import { runInNewContext } from 'node:vm';
import { finishedState } from '../core/pipeline/finished-state.ts';
import {
  createPipeline,
  type PipelineState,
  stepPipeline,
  viewPipeline,
} from '../core/pipeline/pipeline.ts';
import { measureReviewed, reviewPipeline } from '../core/pipeline/review.ts';
import { atFileTime } from '../core/recording/set-file-format.ts';
import { readSet } from '../core/recording/set-reader.ts';
import type { SetRecord } from '../core/recording/set-record.ts';
import { SetWriter } from '../core/recording/set-writer.ts';
import { DEFAULT_ERRORS } from '../core/simulator/sensor-errors.ts';
import { simulateSession } from '../core/simulator/simulate-session.ts';

// What hours of streaming cost: memory and time per hour of the set, and of opening it afterwards.
// npm run bench:long -- [hours, default 4] [swings a minute, default 10]

const hours = Number(process.argv[2] ?? 4);
const swingsPerMinute = Number(process.argv[3] ?? 10);
const REPORT_EVERY_US = 1800e6;
/** Enough that reading the clock costs nothing beside them. */
const GATHERED = 500;

setFlagsFromString('--expose-gc');
const collectGarbage = runInNewContext('gc') as () => void;

/** Memory that something still refers to, MB. */
function heldMB(): { readonly heap: number; readonly buffers: number } {
  collectGarbage();
  collectGarbage();
  const { heapUsed, arrayBuffers } = process.memoryUsage();
  return { heap: heapUsed / 1e6, buffers: arrayBuffers / 1e6 };
}

/** Runs `act` and says how long it took, processor seconds. */
function timed<T>(act: () => T): { readonly result: T; readonly seconds: number } {
  const before = process.cpuUsage();
  const result = act();
  return { result, seconds: process.cpuUsage(before).user / 1e6 };
}

const session = simulateSession(
  {
    seed: 4,
    strategy: 'distal',
    implement: 'short',
    ball: 'training',
    handedness: 'right',
    swings: Math.round(hours * 60 * swingsPerMinute),
    swingIntervalS: 60 / swingsPerMinute,
    nominalRateHz: 200,
    errors: DEFAULT_ERRORS,
  },
  { setId: 'long', startedAtMs: 0, programVersion: 'bench' },
);
const folder = mkdtempSync(join(tmpdir(), 'reach-funnel-long-'));
const path = join(folder, 'long.mcap');

try {
  const swingsLive = record();
  open(swingsLive);
} finally {
  rmSync(folder, { recursive: true });
}

/** Recorder and live pipeline, as the worker runs them; half-hourly what they hold. */
function record(): number {
  const file = openSync(path, 'w');
  const writer = SetWriter.open({ append: (bytes) => writeSync(file, bytes) }, session.description);
  const pipeline = createPipeline(session.description);
  const start = heldMB();
  console.log('hour  heap MB  buffers MB  file MB  swings  live s  one view ms');
  let liveS = 0;
  let lastUs = 0;
  for (const records of gathered()) {
    const { seconds } = timed(() => {
      for (const record of records) writer.add(record);
      writer.send();
      for (const record of records) stepPipeline(pipeline, record);
    });
    liveS += seconds;
    const reports = Math.floor(lastUs / REPORT_EVERY_US);
    lastUs = records.at(-1)!.hostTimeUs;
    if (Math.floor(lastUs / REPORT_EVERY_US) > reports) {
      report(lastUs);
      liveS = 0;
    }
  }
  report(lastUs);
  writer.end();
  closeSync(file);
  return viewPipeline(pipeline).swings.length;

  function report(atUs: number): void {
    const { result: view, seconds } = timed(() => viewPipeline(pipeline));
    const held = heldMB();
    console.log(
      [
        (atUs / 3600e6).toFixed(1).padStart(4),
        (held.heap - start.heap).toFixed(1).padStart(8),
        (held.buffers - start.buffers).toFixed(1).padStart(11),
        (writer.bytes / 1e6).toFixed(1).padStart(8),
        String(view.swings.length).padStart(7),
        liveS.toFixed(1).padStart(6),
        (1000 * seconds).toFixed(1).padStart(12),
      ].join(' '),
    );
  }
}

/** Records as they reach a worker that was busy: many together. */
function* gathered(): Generator<readonly SetRecord[], void, void> {
  let records: SetRecord[] = [];
  for (const step of session.steps) {
    if (step.kind === 'record') records.push(atFileTime(step.record));
    if (records.length < GATHERED) continue;
    yield records;
    records = [];
  }
  if (records.length > 0) yield records;
}

/** The same set for review. */
function open(swingsLive: number): void {
  const read = timed(() => readSet(readFileSync(path)));
  if (!read.result.ok) throw new Error(read.result.error.message);
  const { set } = read.result;
  const pipeline = createPipeline(set.description);
  const run = timed(() => {
    for (const record of set.records) stepPipeline(pipeline, record);
  });
  // what the app keeps of a set that ended, written to its database and read again
  const kept = timed(() => deserialize(serialize(finishedState(pipeline))) as PipelineState);
  const review = timed(() => reviewPipeline(kept.result));
  const measures = timed(() => [...measureReviewed(pipeline, { seed: 1 })].length);
  const swings = viewPipeline(pipeline).swings.length;
  console.log(
    `\nopening: read ${read.seconds.toFixed(1)} s, state kept and read again ${kept.seconds.toFixed(1)} s, review ${review.seconds.toFixed(1)} s; then measures ${measures.seconds.toFixed(1)} s\nwithout a kept state also: pipeline ${run.seconds.toFixed(1)} s`,
  );
  console.log(
    `complete: ${set.complete}, records ${set.records.length}, swings ${swings} (live ${swingsLive}, true ${session.truth.swings.length})`,
  );
}
