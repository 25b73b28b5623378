import { closeSync, mkdtempSync, openSync, readFileSync, rmSync, writeSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { deserialize, serialize, setFlagsFromString } from 'node:v8';
import { runInNewContext } from 'node:vm';
import { finishedState } from '../../core/pipeline/finished-state.ts';
import {
  createPipeline,
  type PipelineState,
  stepPipeline,
  viewPipeline,
} from '../../core/pipeline/pipeline.ts';
import { reviewPipeline } from '../../core/pipeline/review.ts';
import { atFileTime } from '../../core/recording/set-file-format.ts';
import { readSet } from '../../core/recording/set-reader.ts';
import type { SetRecord } from '../../core/recording/set-record.ts';
import { SetWriter } from '../../core/recording/set-writer.ts';
import { DEFAULT_ERRORS } from '../../core/simulator/sensor-errors.ts';
import { simulateSession } from '../../core/simulator/simulate-session.ts';

const REPORT_EVERY_US = 1800e6;
/** Enough that reading the clock costs nothing beside them. */
const GATHERED = 500;

setFlagsFromString('--expose-gc');
const collectGarbage = runInNewContext('gc') as () => void;

type Session = ReturnType<typeof simulateSession>;

/** A set while it runs. Memory is what something still refers to, against the start, MB. */
export interface LongSetReport {
  readonly hours: number;
  readonly heapMB: number;
  readonly buffersMB: number;
  readonly fileMB: number;
  readonly swings: number;
  /** Processor seconds of recorder and pipeline since the last report. */
  readonly liveS: number;
  /** One live view, milliseconds of processor time. */
  readonly viewMs: number;
}

/** What opening the set costs afterwards, processor seconds. */
export interface LongSetOpening {
  readonly readS: number;
  /** From its records alone. */
  readonly pipelineS: number;
  /** From what the app keeps of a set that ended: written to its database and read again. */
  readonly keptS: number;
  readonly reviewS: number;
  /** Whether nothing is missing: the end mark, every record, as many swings as live and as were swung. */
  readonly isComplete: boolean;
  readonly swings: number;
}

/**
 * Hours of streaming through recorder and live pipeline, as the worker runs them, into a file in a temporary folder.
 * @param onReport called every half hour of the set, and at its end
 */
export function runLongSet(
  hours: number,
  swingsPerMinute: number,
  onReport: (report: LongSetReport) => void,
): LongSetOpening {
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
    const recorded = record(session, path, onReport);
    const truth = session.truth.swings.length;
    return open(path, recorded, truth);
  } finally {
    rmSync(folder, { recursive: true });
  }
}

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

function record(
  session: Session,
  path: string,
  onReport: (report: LongSetReport) => void,
): { readonly swings: number; readonly records: number } {
  const file = openSync(path, 'w');
  const writer = SetWriter.open({ append: (bytes) => writeSync(file, bytes) }, session.description);
  const pipeline = createPipeline(session.description);
  const start = heldMB();
  let liveS = 0;
  let lastUs = 0;
  let written = 0;
  const report = (): void => {
    const { result: view, seconds } = timed(() => viewPipeline(pipeline));
    const held = heldMB();
    onReport({
      hours: lastUs / 3600e6,
      heapMB: held.heap - start.heap,
      buffersMB: held.buffers - start.buffers,
      fileMB: writer.bytes / 1e6,
      swings: view.swings.length,
      liveS,
      viewMs: 1000 * seconds,
    });
    liveS = 0;
  };
  for (const records of gathered(session)) {
    const { seconds } = timed(() => {
      for (const record of records) writer.add(record);
      writer.send();
      for (const record of records) stepPipeline(pipeline, record);
    });
    liveS += seconds;
    written += records.length;
    const reports = Math.floor(lastUs / REPORT_EVERY_US);
    lastUs = records.at(-1)!.hostTimeUs;
    if (Math.floor(lastUs / REPORT_EVERY_US) > reports) report();
  }
  report();
  writer.end();
  closeSync(file);
  return { swings: viewPipeline(pipeline).swings.length, records: written };
}

/** Records as they reach a worker that was busy: many together. */
function* gathered(session: Session): Generator<readonly SetRecord[], void, void> {
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
function open(
  path: string,
  recorded: { readonly swings: number; readonly records: number },
  trueSwings: number,
): LongSetOpening {
  const read = timed(() => readSet(readFileSync(path)));
  if (!read.result.ok) throw new Error(read.result.error.message);
  const { set } = read.result;
  const pipeline = createPipeline(set.description);
  const run = timed(() => {
    for (const record of set.records) stepPipeline(pipeline, record);
  });
  const kept = timed(() => deserialize(serialize(finishedState(pipeline))) as PipelineState);
  const review = timed(() => reviewPipeline(kept.result));
  const swings = viewPipeline(pipeline).swings.length;
  return {
    readS: read.seconds,
    pipelineS: run.seconds,
    keptS: kept.seconds,
    reviewS: review.seconds,
    isComplete:
      set.complete &&
      set.records.length === recorded.records &&
      swings === recorded.swings &&
      swings === trueSwings,
    swings,
  };
}
