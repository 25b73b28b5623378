import type { LiveView } from '../core/pipeline/outputs.ts';
import { firstCondition } from '../core/recording/conditions.ts';
import { readDescription } from '../core/recording/description-json.ts';
import type { SetDescription } from '../core/recording/set-description.ts';
import { atFileTime } from '../core/recording/set-file-format.ts';
import type { SetRecord } from '../core/recording/set-record.ts';
import { libraryOf, type PlayerRow } from '../storage/library-rows.ts';
import { StorageError, storageErrorFrom } from '../storage/storage-error.ts';
import { ChangedSets } from './changed-sets.ts';
import type { ComparedSets } from './compared-sets.ts';
import type {
  ChangeSets,
  CompareSets,
  FromWorker,
  ReadTables,
  ToWorker,
  WorkerTrouble,
} from './contract.ts';
import { postExport } from './exported-set.ts';
import type { ImportedTables } from './imported-table.ts';
import { Replay } from './replay.ts';
import type { PipelineRun, SetPipeline, SetStorage } from './set-ports.ts';
import { SetRecording } from './set-recording.ts';
import { countSwings, StoredSets, summarise } from './stored-sets.ts';
import { endSetFirst, liveTrouble, noRunningSet, troubleFrom } from './trouble-words.ts';

type ExportAs = Extract<ToWorker, { type: 'export-as' }>;

/** The set in progress: bytes first, then numbers. */
interface RunningSet {
  readonly recording: SetRecording;
  /** null once it has failed; recording goes on without it. */
  pipeline: PipelineRun | null;
  lastTimeUs: number;
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
  readonly #stored: StoredSets;
  readonly #changed: ChangedSets;
  // What the court never needs is fetched when it is first asked for.
  #tables: ImportedTables | null = null;
  #compared: ComparedSets | null = null;
  #queue: Promise<void> = Promise.resolve();
  #running: RunningSet | null = null;
  #replay: Replay | null = null;
  #hasDrawn = true;
  #isLiveDue = false;
  #hasMissedSet = false;
  /** Messages received and not handled yet, the one under way included. */
  #pending = 0;

  constructor(post: (message: FromWorker) => void, storage: SetStorage, pipeline: SetPipeline) {
    this.#post = post;
    this.#storage = storage;
    this.#pipeline = pipeline;
    this.#stored = new StoredSets(post, storage, pipeline);
    this.#changed = new ChangedSets(post, storage, this.#stored);
  }

  /**
   * Handles one message after all earlier ones.
   * @returns settles when it is handled; never rejects
   */
  receive(message: ToWorker): Promise<void> {
    this.#pending++;
    this.#queue = this.#queue.then(async () => {
      try {
        await this.#handle(message);
      } catch (error) {
        this.#report(troubleFrom(error));
      }
      this.#pending--;
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
        return this.#stored.list();
      case 'list-library':
        return this.#stored.listLibrary();
      case 'keep-player':
        return this.#keepPlayer(message.player);
      case 'open-set':
        return this.#stored.open(message.setId, message.block);
      case 'trace-swing':
        return this.#stored.trace(message.setId, message.index);
      case 'read-history':
        return this.#readHistory(message.player);
      case 'export-set':
        return this.#export(message.setId);
      case 'export-as':
        return this.#exportAs(message);
      case 'replay-set':
        return this.#replaySet(message.setId);
      case 'replay-to':
        return this.#replayTo(message.hostTimeUs);
      case 'replay-over':
        this.#replay = null;
        return;
      case 'preview-table':
      case 'read-mapping':
      case 'import-table':
        return this.#readTable(message);
      case 'list-conditions':
      case 'compare':
      case 'compare-on':
        return this.#compare(message);
      default:
        return this.#change(message);
    }
  }

  async #readHistory(player: string): Promise<void> {
    if (this.#running !== null) {
      this.#report(endSetFirst());
      return;
    }
    const isOverdue = () => this.#pending > 1;
    const { postHistory } = await import('./player-history.ts');
    await postHistory({ post: this.#post, sets: this.#stored, isOverdue }, player);
  }

  /** Allowed while a set runs, hence no look at the files. */
  async #keepPlayer(player: PlayerRow): Promise<void> {
    await this.#storage.keepPlayer(player);
    this.#post({ type: 'library', library: await this.#storage.library() });
  }

  async #exportAs({ setId, kind, programVersion }: ExportAs): Promise<void> {
    if (this.#running !== null) {
      this.#report(endSetFirst());
      return;
    }
    const set = await this.#stored.read(setId);
    if (set !== null) await postExport(this.#post, set, kind, programVersion);
  }

  async #replaySet(setId: string): Promise<void> {
    if (this.#running !== null) {
      this.#report(endSetFirst());
      return;
    }
    const set = await this.#stored.read(setId);
    if (set === null) return;
    this.#replay = new Replay(set, this.#pipeline);
    this.#post({ type: 'replay-ready', description: set.description, endUs: this.#replay.endUs });
  }

  #replayTo(hostTimeUs: number): void {
    if (this.#replay === null || this.#running !== null) return;
    this.#post({ type: 'live', view: this.#replay.goTo(hostTimeUs).view() });
  }

  /** What takes its time would keep the running set from its file. */
  async #change(message: ChangeSets): Promise<void> {
    if (this.#running !== null) this.#report(endSetFirst());
    else if (message.type === 'edit-set')
      await this.#changed.edit(message.setId, message.events, message.block);
    else if (message.type === 'import-files') await this.#changed.import(message.files);
    else if (message.type === 'export-all') await this.#changed.exportAll();
    else await this.#changed.deletePlayer(message.player);
  }

  async #readTable(message: ReadTables): Promise<void> {
    if (this.#running !== null) {
      this.#report(endSetFirst());
      return;
    }
    const module = await import('./imported-table.ts');
    this.#tables ??= new module.ImportedTables({
      post: this.#post,
      storage: this.#storage,
      pipeline: this.#pipeline,
      sets: this.#stored,
    });
    await this.#tables.take(message);
  }

  async #compare(message: CompareSets): Promise<void> {
    if (this.#running !== null) {
      this.#report(endSetFirst());
      return;
    }
    const module = await import('./compared-sets.ts');
    this.#compared ??= new module.ComparedSets(this.#post, this.#storage, this.#stored);
    await this.#compared.take(message);
  }

  async #begin(wanted: SetDescription): Promise<void> {
    // Before a file is made: one without a readable head would only be in the way.
    const description = readDescription(wanted);
    if (this.#running !== null) await this.#end();
    this.#replay = null;
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
    this.#record(running, records);
    if (running.pipeline === null) return;
    this.#isLiveDue = true;
    this.#showLive(running);
  }

  /** Bytes first, all that arrived together in one write; then the pipeline. */
  #record(running: RunningSet, arrived: readonly SetRecord[]): void {
    const records: SetRecord[] = [];
    for (const raw of arrived) {
      try {
        // The pipeline sees the time that the file will give back.
        const record = atFileTime(raw);
        running.recording.add(record);
        records.push(record);
      } catch (error) {
        this.#report(troubleFrom(error));
      }
    }
    let hasFlushed = false;
    try {
      hasFlushed = running.recording.commit();
    } catch (error) {
      this.#reportUnsaved(storageErrorFrom(error));
    }
    if (hasFlushed) this.#post({ type: 'recorded', ...running.recording.written });
    for (const record of records) this.#step(running, record);
  }

  #step(running: RunningSet, record: SetRecord): void {
    running.lastTimeUs = Math.max(running.lastTimeUs, record.hostTimeUs);
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
      const event = { type: 'set-ended' } as const;
      this.#record(running, [{ kind: 'event', hostTimeUs: running.lastTimeUs, event }]);
    }
    try {
      recording.end();
    } catch (error) {
      this.#reportUnsaved(storageErrorFrom(error));
    }
    try {
      const { description } = recording;
      const swings = countSwings(running.pipeline);
      const played = swings === null ? null : (running.pipeline?.view().blocks ?? null);
      const blocks = played ?? [firstCondition(description)];
      if (recording.isUnsaved) {
        this.#stored.keepUnsaved(description, recording.bytes(), swings ?? 0, blocks);
      } else {
        const { written } = recording;
        this.#post({ type: 'recorded', ...written });
        if (swings !== null) {
          await this.#storage.remember(summarise(description, written.bytes, swings, blocks));
          await this.#storage.learn(libraryOf(description, blocks));
          if (running.pipeline !== null) {
            const bytes = recording.bytes();
            await this.#stored.keep(description, written.records, running.pipeline, bytes);
          }
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

  /** A fresh copy: it may be transferred away. */
  async #export(setId: string): Promise<void> {
    const running = this.#running?.recording;
    const bytes =
      running?.description.setId === setId ? running.bytes() : await this.#stored.bytesOf(setId);
    this.#post({ type: 'set-file', setId, fileName: `${setId}.mcap`, bytes });
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
