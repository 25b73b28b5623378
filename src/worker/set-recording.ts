import { joinedBytes } from '../core/recording/joined-bytes.ts';
import type { SetDescription } from '../core/recording/set-description.ts';
import { readSet } from '../core/recording/set-reader.ts';
import type { SetRecord } from '../core/recording/set-record.ts';
import { SetWriter } from '../core/recording/set-writer.ts';
import type { RunningFile } from '../storage/set-files.ts';
import { StorageError } from '../storage/storage-error.ts';

/** Flushed at least this often, in host time; half of the second that may be lost. */
const FLUSH_INTERVAL_US = 500_000;

/** The set's file and what has reached it. */
interface Disk {
  readonly file: RunningFile;
  readonly writer: SetWriter;
}

/**
 * The lossless path of one running set. Writes to its file until storage fails; from then on the
 * records stay in memory, so that the set can still be exported whole.
 */
export class SetRecording {
  readonly description: SetDescription;
  readonly #disk: Disk | null;
  #isUnsaved: boolean;
  /** Records that are not in the file, in order. */
  readonly #kept: SetRecord[] = [];
  /** Records put in line since the last commit, in order. */
  readonly #inLine: SetRecord[] = [];
  #lastFlushUs = 0;
  #isMarkedEnded = false;

  private constructor(description: SetDescription, disk: Disk | null) {
    this.description = description;
    this.#disk = disk;
    this.#isUnsaved = disk === null;
  }

  /**
   * Starts a set in a new file.
   * @throws StorageError or ShapeError when the head cannot be written; the file is let go
   */
  static inFile(description: SetDescription, file: RunningFile): SetRecording {
    try {
      const writer = SetWriter.open(file, description);
      file.flush();
      return new SetRecording(description, { file, writer });
    } catch (error) {
      file.close();
      throw error;
    }
  }

  /** Starts a set that storage has no place for. */
  static inMemory(description: SetDescription): SetRecording {
    return new SetRecording(description, null);
  }

  /** True once storage has failed: the set lives in memory only. */
  get isUnsaved(): boolean {
    return this.#isUnsaved;
  }

  /** True when the last record says that the set has ended. */
  get isMarkedEnded(): boolean {
    return this.#isMarkedEnded;
  }

  /** What is in the file: records and bytes. */
  get written(): { readonly records: number; readonly bytes: number } {
    const writer = this.#disk?.writer;
    return { records: writer?.records ?? 0, bytes: writer?.bytes ?? 0 };
  }

  /**
   * Puts one record in line; `commit` writes it.
   * @throws ShapeError or RangeError when the record itself is wrong; it is nowhere then
   */
  add(record: SetRecord): void {
    if (!this.#isUnsaved) this.#disk!.writer.add(record);
    this.#inLine.push(record);
    this.#isMarkedEnded = record.kind === 'event' && record.event.type === 'set-ended';
  }

  /**
   * Writes what is in line, to the file or, after a failure, to memory: one write for all that arrived
   * together, because a write costs more than a millisecond.
   * @returns true when everything so far has just been flushed
   * @throws StorageError when storage failed right now; the records are in memory
   */
  commit(): boolean {
    const records = this.#inLine.splice(0);
    if (this.#isUnsaved) {
      this.#kept.push(...records);
      return false;
    }
    try {
      this.#disk!.writer.send();
    } catch (error) {
      this.#isUnsaved = true;
      this.#kept.push(...records);
      throw error;
    }
    return this.#flushIfDue(records);
  }

  /**
   * Closes the file. Nothing may be appended afterwards.
   * @throws StorageError when storage failed right now; the set is in memory
   */
  end(): void {
    if (this.#disk === null || this.#isUnsaved) return;
    try {
      this.#disk.writer.end();
      this.#disk.file.flush();
    } catch (error) {
      this.#isUnsaved = true;
      throw error;
    }
  }

  /** Lets go of the file; `bytes` must not be asked for afterwards. */
  close(): void {
    this.#disk?.file.close();
  }

  /**
   * The set so far as the bytes of a set file. After a failure of storage it is put together from
   * the file and memory; when the file cannot be read back, from memory alone.
   * @throws StorageError when nothing is in memory and the file cannot be read back
   */
  bytes(): Uint8Array {
    if (!this.#isUnsaved) return this.#disk!.file.read();
    const parts: Uint8Array[] = [];
    const writer = SetWriter.open({ append: (part) => parts.push(part) }, this.description);
    for (const record of [...this.#recordsOnDisk(), ...this.#kept]) writer.append(record);
    writer.end();
    return joinedBytes(parts);
  }

  /** Without what follows the last record known to be written whole. */
  #recordsOnDisk(): readonly SetRecord[] {
    if (this.#disk === null) return [];
    try {
      const result = readSet(this.#disk.file.read());
      return result.ok ? result.set.records.slice(0, this.#disk.writer.records) : [];
    } catch (error) {
      if (this.#kept.length === 0 || !(error instanceof StorageError)) throw error;
      return [];
    }
  }

  /** Driven by arriving records, because timers sleep in hidden tabs. What the coach did is rare and never waits. */
  #flushIfDue(records: readonly SetRecord[]): boolean {
    const last = records.at(-1);
    if (last === undefined) return false;
    const waitedUs = Math.abs(last.hostTimeUs - this.#lastFlushUs);
    const hasEvent = records.some((record) => record.kind === 'event');
    if (!hasEvent && waitedUs < FLUSH_INTERVAL_US) return false;
    try {
      this.#disk!.file.flush();
    } catch (error) {
      this.#isUnsaved = true;
      throw error;
    }
    this.#lastFlushUs = last.hostTimeUs;
    return true;
  }
}
