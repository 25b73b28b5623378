import type { LiveView } from '../core/pipeline/outputs.ts';
import { readDescription } from '../core/recording/description-json.ts';
import type { SetDescription } from '../core/recording/set-description.ts';
import { atFileTime } from '../core/recording/set-file-format.ts';
import { readSet, type StoredSet } from '../core/recording/set-reader.ts';
import type { SetRecord } from '../core/recording/set-record.ts';
import type { StoredFile } from '../storage/set-files.ts';
import { StorageError, storageErrorFrom } from '../storage/storage-error.ts';
import type { FromWorker, SetSummary, ToWorker, WorkerTrouble } from './contract.ts';
import type { PipelineRun, SetPipeline, SetStorage } from './set-ports.ts';
import { SetRecording } from './set-recording.ts';

/** The set in progress: bytes first, then numbers. */
interface RunningSet {
  readonly recording: SetRecording;
  /** null once it has failed; recording goes on without it. */
  pipeline: PipelineRun | null;
  lastTimeUs: number;
}

/** A set that storage had no place for, until the page is closed. */
interface UnsavedSet {
  readonly bytes: Uint8Array;
  readonly summary: SetSummary;
}

/**
 * Everything the worker does, without a worker: takes messages, answers through `post`. Has no
 * clock and no timer; what is due is done when a message arrives.
 *
 * Messages are handled strictly one after another. A failure becomes a `trouble` message; nothing
 * on the live path can stop the recording.
 */
export class SetSession {
  readonly #post: (message: FromWorker) => void;
  readonly #storage: SetStorage;
  readonly #pipeline: SetPipeline;
  readonly #unsaved = new Map<string, UnsavedSet>();
  readonly #reportedFiles = new Set<string>();
  #queue: Promise<void> = Promise.resolve();
  #running: RunningSet | null = null;
  #hasDrawn = true;
  #isLiveDue = false;
  #hasMissedSet = false;

  constructor(post: (message: FromWorker) => void, storage: SetStorage, pipeline: SetPipeline) {
    this.#post = post;
    this.#storage = storage;
    this.#pipeline = pipeline;
  }

  /**
   * Handles one message after all earlier ones.
   * @returns settles when it is handled; never rejects
   */
  receive(message: ToWorker): Promise<void> {
    this.#queue = this.#queue.then(async () => {
      try {
        await this.#handle(message);
      } catch (error) {
        this.#report(troubleFrom(error));
      }
    });
    return this.#queue;
  }

  #handle(message: ToWorker): void | Promise<void> {
    switch (message.type) {
      case 'begin-set':
        return this.#begin(message.description);
      case 'append':
        return this.#append(message.records);
      case 'live-drawn':
        return this.#drawn();
      case 'end-set':
        return this.#end();
      case 'list-sets':
        return this.#list();
      case 'open-set':
        return this.#open(message.setId);
      case 'export-set':
        return this.#export(message.setId);
    }
  }

  async #begin(wanted: SetDescription): Promise<void> {
    // Before a file is made: one without a readable head would only be in the way.
    const description = readDescription(wanted);
    if (this.#running !== null) await this.#end();
    this.#running = {
      recording: await this.#startRecording(description),
      pipeline: this.#startPipeline(description),
      lastTimeUs: 0,
    };
    this.#hasDrawn = true;
    this.#isLiveDue = false;
    this.#hasMissedSet = false;
    this.#post({ type: 'set-begun', setId: description.setId });
  }

  /** Without storage the set still runs, in memory, and the coach is told. */
  async #startRecording(description: SetDescription): Promise<SetRecording> {
    try {
      const file = await this.#storage.create(description.setId);
      return SetRecording.inFile(description, file);
    } catch (error) {
      if (!(error instanceof StorageError)) throw error;
      this.#reportUnsaved(error);
      return SetRecording.inMemory(description);
    }
  }

  #startPipeline(description: SetDescription): PipelineRun | null {
    try {
      return this.#pipeline.start(description);
    } catch (error) {
      this.#report(liveTrouble(error));
      return null;
    }
  }

  #append(records: readonly SetRecord[]): void {
    const running = this.#running;
    if (running === null) {
      // Streams send many times a second: one message is enough.
      if (!this.#hasMissedSet) this.#report(noRunningSet());
      this.#hasMissedSet = true;
      return;
    }
    for (const record of records) this.#appendOne(running, record);
    if (running.pipeline === null) return;
    this.#isLiveDue = true;
    this.#showLive(running);
  }

  #appendOne(running: RunningSet, arrived: SetRecord): void {
    let hasFlushed = false;
    let record: SetRecord;
    try {
      // The pipeline sees the time that the file will give back.
      record = atFileTime(arrived);
      hasFlushed = running.recording.append(record);
    } catch (error) {
      if (!(error instanceof StorageError)) {
        this.#report(troubleFrom(error));
        return;
      }
      this.#reportUnsaved(error);
      record = atFileTime(arrived);
    }
    running.lastTimeUs = Math.max(running.lastTimeUs, record.hostTimeUs);
    if (hasFlushed) this.#post({ type: 'recorded', ...running.recording.written });
    try {
      running.pipeline?.step(record);
    } catch (error) {
      running.pipeline = null;
      this.#report(liveTrouble(error));
    }
  }

  #showLive(running: RunningSet): void {
    if (!this.#isLiveDue || !this.#hasDrawn || running.pipeline === null) return;
    let view: LiveView;
    try {
      view = running.pipeline.view();
    } catch (error) {
      running.pipeline = null;
      this.#report(liveTrouble(error));
      return;
    }
    this.#isLiveDue = false;
    this.#hasDrawn = false;
    this.#post({ type: 'live', view });
  }

  #drawn(): void {
    this.#hasDrawn = true;
    if (this.#running !== null) this.#showLive(this.#running);
  }

  async #end(): Promise<void> {
    const running = this.#running;
    if (running === null) {
      this.#report(noRunningSet());
      return;
    }
    this.#running = null;
    const { recording } = running;
    const { setId } = recording.description;
    if (!recording.isMarkedEnded) {
      this.#appendOne(running, {
        kind: 'event',
        hostTimeUs: running.lastTimeUs,
        event: { type: 'set-ended' },
      });
    }
    try {
      recording.end();
    } catch (error) {
      this.#reportUnsaved(storageErrorFrom(error));
    }
    try {
      const swings = countSwings(running.pipeline);
      if (recording.isUnsaved) {
        const bytes = recording.bytes();
        const summary = summarise(recording.description, bytes.length, swings ?? 0);
        this.#unsaved.set(setId, { bytes, summary });
      } else {
        const { written } = recording;
        this.#post({ type: 'recorded', ...written });
        if (swings !== null) {
          await this.#storage.remember(summarise(recording.description, written.bytes, swings));
        }
      }
    } catch (error) {
      // The file stands; the list makes its row anew.
      this.#report(troubleFrom(error));
    } finally {
      recording.close();
    }
    this.#post({ type: 'set-ended', setId });
  }

  async #list(): Promise<void> {
    let stored: readonly SetSummary[] = [];
    try {
      stored = await this.#storage.list((file) => this.#summariseFile(file));
    } catch (error) {
      this.#report(troubleFrom(error));
    }
    const unsaved = [...this.#unsaved.values()].map(({ summary }) => summary);
    const others = stored.filter(({ setId }) => !this.#unsaved.has(setId));
    this.#post({ type: 'sets', sets: [...unsaved, ...others] });
  }

  async #summariseFile(file: StoredFile): Promise<SetSummary | null> {
    const result = readSet(await this.#storage.read(file.setId));
    if (!result.ok) {
      if (!this.#reportedFiles.has(file.setId)) {
        this.#report({
          code: 'set-unreadable',
          message: `The stored file '${file.setId}' is left out of the list. ${result.error.message}`,
        });
      }
      this.#reportedFiles.add(file.setId);
      return null;
    }
    const { description } = result.set;
    return summarise(description, file.sizeBytes, countSwings(this.#rerun(result.set)) ?? 0);
  }

  async #open(setId: string): Promise<void> {
    const result = readSet(await this.#bytesOf(setId));
    if (!result.ok) {
      this.#report({ code: 'set-unreadable', message: result.error.message });
      return;
    }
    const { set } = result;
    if (!set.complete) {
      this.#report({
        code: 'set-unreadable',
        message: `The file of this set is not whole. ${set.fault ?? ''} What you see comes from the ${set.records.length} records that could be read.`,
      });
    }
    const view = this.#rerun(set)?.view();
    if (view !== undefined) {
      this.#post({ type: 'opened-set', description: set.description, view });
    }
  }

  async #export(setId: string): Promise<void> {
    const bytes = await this.#bytesOf(setId);
    this.#post({ type: 'set-file', setId, fileName: `${setId}.mcap`, bytes });
  }

  /** A fresh copy: it may be transferred away. */
  async #bytesOf(setId: string): Promise<Uint8Array> {
    const running = this.#running?.recording;
    if (running?.description.setId === setId) return running.bytes();
    return this.#unsaved.get(setId)?.bytes.slice() ?? (await this.#storage.read(setId));
  }

  /** A stored set through the same pipeline as live; null (and trouble) when that fails. */
  #rerun(set: StoredSet): PipelineRun | null {
    try {
      const pipeline = this.#pipeline.start(set.description);
      for (const record of set.records) pipeline.step(record);
      return pipeline;
    } catch (error) {
      this.#report({
        code: 'set-unreadable',
        message: `The numbers of set '${set.description.setId}' could not be computed (${wordsOf(error)}). Its file is whole; export it to keep it.`,
      });
      return null;
    }
  }

  #reportUnsaved(error: StorageError): void {
    this.#report({
      code: error.code,
      message: `${error.message} This set goes on in memory only: keep this page open and export the set when it has ended.`,
    });
  }

  #report(trouble: WorkerTrouble): void {
    this.#post({ type: 'trouble', trouble });
  }
}

function summarise(description: SetDescription, sizeBytes: number, swings: number): SetSummary {
  const { setId, startedAtMs, source, player, implement, ball } = description;
  return { setId, startedAtMs, source, player, implement, ball, swings, sizeBytes };
}

/** null when the pipeline has failed: the list then counts from the file. */
function countSwings(pipeline: PipelineRun | null): number | null {
  try {
    return pipeline?.view().swings.length ?? null;
  } catch {
    return null;
  }
}

function noRunningSet(): WorkerTrouble {
  return {
    code: 'no-running-set',
    message: 'No set is running, so nothing was recorded. Start a set first.',
  };
}

function liveTrouble(error: unknown): WorkerTrouble {
  return {
    code: 'unexpected',
    message: `The live numbers have stopped (${wordsOf(error)}). Recording goes on; open the set when it has ended.`,
  };
}

function troubleFrom(error: unknown): WorkerTrouble {
  if (error instanceof StorageError) return { code: error.code, message: error.message };
  return {
    code: 'unexpected',
    message: `Something went wrong in the recorder (${wordsOf(error)}). Reload the page if it happens again; what was saved stays saved.`,
  };
}

function wordsOf(error: unknown): string {
  return error instanceof Error ? error.message : String(error);
}
