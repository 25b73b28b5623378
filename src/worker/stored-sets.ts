import { blocksByCondition } from '../core/pipeline/blocks.ts';
import { conditionsOf } from '../core/recording/conditions.ts';
import type { SetDescription } from '../core/recording/set-description.ts';
import { readSet, type StoredSet } from '../core/recording/set-reader.ts';
import type { Condition, SetRecord } from '../core/recording/set-record.ts';
import type { KeptState } from '../storage/kept-state.ts';
import { libraryOf } from '../storage/library-rows.ts';
import type { StoredFile } from '../storage/set-files.ts';
import type { FromWorker, RecoveredSet, SetSummary, WorkerTrouble } from './contract.ts';
import type { PipelineRun, SetPipeline, SetStorage } from './set-ports.ts';
import { troubleFrom, wordsOf } from './trouble-words.ts';

/** A set that storage had no place for, until the page is closed. */
interface UnsavedSet {
  readonly bytes: Uint8Array;
  readonly summary: SetSummary;
}

/** A set after all its records. */
export interface OpenedRun {
  readonly description: SetDescription;
  readonly run: PipelineRun;
}

/** Sets that have ended: in storage, or in memory because storage failed. */
export class StoredSets {
  readonly #post: (message: FromWorker) => void;
  readonly #storage: SetStorage;
  readonly #pipeline: SetPipeline;
  readonly #unsaved = new Map<string, UnsavedSet>();
  readonly #reportedFiles = new Set<string>();
  #areFilesKnown = false;
  /** The set opened last: its swings may be asked for one by one. */
  #opened: OpenedRun | null = null;

  constructor(post: (message: FromWorker) => void, storage: SetStorage, pipeline: SetPipeline) {
    this.#post = post;
    this.#storage = storage;
    this.#pipeline = pipeline;
  }

  /** Keeps a set in memory, so that it can be opened and exported like any other. */
  keepUnsaved(
    description: SetDescription,
    bytes: Uint8Array,
    swings: number,
    blocks: readonly Condition[],
  ): void {
    const row = summarise(description, bytes.length, swings, blocks);
    this.#unsaved.set(description.setId, { bytes, summary: { ...row, isInMemoryOnly: true } });
  }

  /** Whether a set lives in memory only. */
  isUnsaved(setId: string): boolean {
    return this.#unsaved.has(setId);
  }

  /** A set in memory as it is now. */
  replaceUnsaved(setId: string, bytes: Uint8Array): void {
    const { summary } = this.#unsaved.get(setId)!;
    this.#unsaved.set(setId, { bytes, summary: { ...summary, sizeBytes: bytes.length } });
  }

  /**
   * Removes a set for good, from storage and memory.
   * @throws StorageError when it cannot be removed from storage
   */
  async remove(setId: string): Promise<void> {
    if (!this.#unsaved.delete(setId)) await this.#storage.remove(setId);
  }

  /** Posts the list, newest sets first, those in memory at the head; again when the files say otherwise. */
  async list(): Promise<void> {
    let told: string | null = null;
    const tell = (sets: readonly SetSummary[]): void => {
      const key = JSON.stringify(sets);
      if (key !== told) this.#post({ type: 'sets', sets });
      told = key;
    };
    tell(await this.rows((known) => tell(this.#withUnsaved(known))));
  }

  /**
   * Posts players and kit of earlier sets. Files not known yet are read first, once: whoever records or brings in a
   * set later, here or in another tab, tells the library at once.
   * @throws StorageError when storage cannot be read
   */
  async listLibrary(): Promise<void> {
    if (!this.#areFilesKnown) await this.rows();
    this.#post({ type: 'library', library: await this.#storage.library() });
  }

  /**
   * The rows of all sets, newest first, those in memory at the head; what was recovered or cannot be listed is told.
   * @param tell has what is known of the stored ones before their files are looked at
   */
  async rows(
    tell: (stored: readonly SetSummary[]) => void = () => {},
  ): Promise<readonly SetSummary[]> {
    let stored: readonly SetSummary[] = [];
    const recovered: RecoveredSet[] = [];
    try {
      stored = await this.#storage.list((file) => this.#summariseFile(file, recovered), tell);
      this.#areFilesKnown = true;
    } catch (error) {
      this.#report(troubleFrom(error));
    }
    if (recovered.length > 0) this.#post({ type: 'recovered', sets: recovered });
    return this.#withUnsaved(stored);
  }

  #withUnsaved(stored: readonly SetSummary[]): readonly SetSummary[] {
    const unsaved = [...this.#unsaved.values()].map(({ summary }) => summary);
    const others = stored.filter(({ setId }) => !this.#unsaved.has(setId));
    return [...unsaved, ...others];
  }

  async #summariseFile(file: StoredFile, recovered: RecoveredSet[]): Promise<SetSummary | null> {
    // Stopped before its first byte was written: nothing is lost and nothing can be said.
    if (file.sizeBytes === 0) return null;
    const bytes = await this.#storage.read(file.setId);
    const result = readSet(bytes);
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
    const { description, records } = result.set;
    const swings = countSwings(await this.#runOf(result.set, bytes)) ?? 0;
    if (!records.some(isEnd)) {
      recovered.push({ setId: file.setId, swings, untilUs: records.at(-1)?.hostTimeUs ?? 0 });
    }
    const blocks = conditionsOf(description, records);
    await this.#storage.learn(libraryOf(description, blocks));
    return summarise(description, file.sizeBytes, swings, blocks);
  }

  /**
   * A set as its file gives it now; null, and told, when that is none. What is missing from it is told too.
   * @throws StorageError when there is no such set
   */
  async read(setId: string): Promise<StoredSet | null> {
    return this.#readBytes(await this.bytesOf(setId));
  }

  #readBytes(bytes: Uint8Array): StoredSet | null {
    const result = readSet(bytes);
    if (!result.ok) {
      this.#report({ code: 'set-unreadable', message: result.error.message });
      return null;
    }
    const { set } = result;
    if (!set.complete) {
      this.#report({
        code: 'set-unreadable',
        message: `The file of this set is not whole. ${set.fault ?? ''} What you see comes from the ${set.records.length} records that could be read.`,
      });
    }
    return set;
  }

  /**
   * Posts a set as its records give it now.
   * @param block whose condition is read, from 0; the last one unless there is such a block
   * @throws StorageError when there is no such set
   */
  async open(setId: string, block?: number): Promise<void> {
    const opened = await this.#openRun(setId);
    if (opened === null) return;
    const { description, run } = opened;
    const played = run.view().blocks;
    const read = block !== undefined && block < played.length ? block : played.length - 1;
    const conditions = blocksByCondition(played);
    this.#post({
      type: 'opened-set',
      description,
      view: run.review(read),
      conditions,
      blocks: conditions.find((alike) => alike.includes(read)) ?? [],
    });
    this.#postMeasures(setId, run, read);
  }

  /**
   * Posts one swing of a set, of the one opened last without reading it again.
   * @throws StorageError when there is no such set
   */
  async trace(setId: string, index: number): Promise<void> {
    const isOpen = this.#opened?.description.setId === setId;
    const opened = isOpen ? this.#opened : await this.#openRun(setId);
    if (opened === null) return;
    this.#post({ type: 'swing-trace', setId, index, trace: opened.run.trace(index) });
  }

  async #openRun(setId: string): Promise<OpenedRun | null> {
    this.#opened = null;
    this.#opened = await this.played(setId);
    return this.#opened;
  }

  /**
   * A set after all its records; null, and told, when it cannot be had.
   * @throws StorageError when there is no such set
   */
  async played(setId: string): Promise<OpenedRun | null> {
    const bytes = await this.bytesOf(setId);
    const sealed = await this.#sealed(setId, bytes);
    if (sealed !== null) return sealed;
    const set = this.#readBytes(bytes);
    if (set === null) return null;
    const run = await this.#runOf(set, bytes);
    return run === null ? null : { description: set.description, run };
  }

  /** They take a second or so: each family is posted as soon as it is there. */
  #postMeasures(setId: string, run: PipelineRun, block: number): void {
    try {
      for (const measures of run.measures(block)) {
        this.#post({ type: 'measures', setId, measures, isLast: false });
      }
    } catch (error) {
      this.#report({
        code: 'unexpected',
        message: `Not all measures of set '${setId}' could be computed (${wordsOf(error)}). Its swings and its file are whole.`,
      });
    }
    this.#post({ type: 'measures', setId, measures: {}, isLast: true });
  }

  /**
   * The bytes of a set's file, as a fresh copy.
   * @throws StorageError when there is no such set
   */
  async bytesOf(setId: string): Promise<Uint8Array> {
    return this.#unsaved.get(setId)?.bytes.slice() ?? (await this.#storage.read(setId));
  }

  /** A stored set after all its records: from what was kept of it, else from its beginning. */
  async #runOf(set: StoredSet, bytes: Uint8Array): Promise<PipelineRun | null> {
    const run = (await this.#resumed(set)) ?? this.#rerun(set);
    const isWhole = set.complete && set.records.some(isEnd);
    if (run !== null && isWhole) await this.keep(set.description, set.records.length, run, bytes);
    return run;
  }

  /** A set whose file is still the one that its state was kept of; null: its records must be read. */
  async #sealed(setId: string, bytes: Uint8Array): Promise<OpenedRun | null> {
    const kept = await this.#keptOf(setId);
    if (kept === null || kept.sha256 !== (await sha256Of(bytes))) return null;
    try {
      return { description: kept.description, run: this.#pipeline.resume(kept.state) };
    } catch {
      return null;
    }
  }

  /** A set from what was kept of it and what was said since; null: from its records. */
  async #resumed({ description, records }: StoredSet): Promise<PipelineRun | null> {
    const kept = await this.#keptOf(description.setId);
    if (kept === null || kept.records > records.length) return null;
    const later = records.slice(kept.records);
    if (!later.every(({ kind }) => kind === 'event')) return null;
    try {
      const run = this.#pipeline.resume(kept.state);
      for (const record of later) run.step(record);
      return run;
    } catch {
      // nothing but time is lost: the records say the same
      return null;
    }
  }

  /** What this program has kept of a set in storage. */
  async #keptOf(setId: string): Promise<KeptState | null> {
    if (this.isUnsaved(setId)) return null;
    try {
      const kept = await this.#storage.keptState(setId);
      return kept?.build === this.#pipeline.build ? kept : null;
    } catch {
      return null;
    }
  }

  /**
   * Keeps what a set's pipeline has come to. Without room for it the pipeline runs again next time.
   * @param bytes of the set's file @param records in it, all taken in
   */
  async keep(
    description: SetDescription,
    records: number,
    run: PipelineRun,
    bytes: Uint8Array,
  ): Promise<void> {
    const { setId } = description;
    const { build } = this.#pipeline;
    try {
      const sha256 = await sha256Of(bytes);
      const state = run.finished();
      await this.#storage.keepState({ setId, build, description, sha256, records, state });
    } catch {
      // as above
    }
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

  #report(trouble: WorkerTrouble): void {
    this.#post({ type: 'trouble', trouble });
  }
}

function isEnd(record: SetRecord): boolean {
  return record.kind === 'event' && record.event.type === 'set-ended';
}

/** The row of a set in the list. @param blocks conditions of its blocks, in order */
export function summarise(
  description: SetDescription,
  sizeBytes: number,
  swings: number,
  blocks: readonly Condition[],
): SetSummary {
  const { setId, startedAtMs, source, player, implement, ball } = description;
  const row = { setId, startedAtMs, source, player, implement, ball, swings, sizeBytes };
  const byNames = new Map(
    blocks.map((kit) => [
      JSON.stringify([kit.implement, kit.ball]),
      { implement: kit.implement, ball: kit.ball },
    ]),
  );
  return byNames.size > 1 ? { ...row, kits: [...byNames.values()] } : row;
}

/** Swings found; null when the pipeline has failed: the list then counts from the file. */
export function countSwings(pipeline: PipelineRun | null): number | null {
  try {
    return pipeline?.view().swings.length ?? null;
  } catch {
    return null;
  }
}

async function sha256Of(bytes: Uint8Array): Promise<string> {
  const digest = await crypto.subtle.digest('SHA-256', bytes as Uint8Array<ArrayBuffer>);
  return Array.from(new Uint8Array(digest), (byte) => byte.toString(16).padStart(2, '0')).join('');
}
