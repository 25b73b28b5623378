import { AppendError, appendEvents } from '../core/recording/append-events.ts';
import { joinedBytes } from '../core/recording/joined-bytes.ts';
import { readSet } from '../core/recording/set-reader.ts';
import type { SetEvent } from '../core/recording/set-record.ts';
import type { ArchivedFile } from './archive.ts';
import {
  ArchiveError,
  MAX_ARCHIVE_BYTES,
  MAX_FILE_BYTES,
  packArchive,
  unpackArchive,
} from './archive.ts';
import type { FromWorker, RefusedFile, SetSummary } from './contract.ts';
import type { SetStorage } from './set-ports.ts';
import type { StoredSets } from './stored-sets.ts';
import { wordsOf } from './trouble-words.ts';

/** What became of files that were to be imported. */
interface Tally {
  /** Sets that are stored, those of this import included. */
  readonly setIds: Set<string>;
  stored: number;
  known: number;
  readonly refused: RefusedFile[];
}

/** What is done to sets that have ended: edited, brought in from files, taken out in archives, deleted. */
export class ChangedSets {
  readonly #post: (message: FromWorker) => void;
  readonly #storage: SetStorage;
  readonly #sets: StoredSets;

  constructor(post: (message: FromWorker) => void, storage: SetStorage, sets: StoredSets) {
    this.#post = post;
    this.#storage = storage;
    this.#sets = sets;
  }

  /**
   * Adds events to a set and posts it as it reads now. @param block whose condition is read, the last one unless said
   * @throws StorageError when the set is not there or cannot be written; then nothing has changed
   */
  async edit(setId: string, events: readonly SetEvent[], block?: number): Promise<void> {
    const bytes = await this.#sets.bytesOf(setId);
    try {
      const change = appendEvents(bytes, events);
      if (this.#sets.isUnsaved(setId)) {
        const kept = bytes.subarray(0, change.keptBytes);
        this.#sets.replaceUnsaved(setId, joinedBytes([kept, change.tail]));
      } else {
        await this.#storage.changeTail(setId, change);
      }
    } catch (error) {
      if (!(error instanceof AppendError)) throw error;
      this.#post({ type: 'trouble', trouble: { code: 'not-changed', message: error.message } });
      return;
    }
    await this.#sets.open(setId, block);
  }

  /** Stores what is sound in these files and in the archives among them, and posts what became of each. */
  async import(files: readonly File[]): Promise<void> {
    // Asked once: to list hundreds of sets for each of hundreds of files takes most of a minute.
    const setIds = new Set((await this.#sets.rows()).map(({ setId }) => setId));
    const tally: Tally = { setIds, stored: 0, known: 0, refused: [] };
    for (const file of files) {
      try {
        if (/\.zip$/i.test(file.name)) await this.#importArchive(file, tally);
        else await this.#importSet(await read(file), tally);
      } catch (error) {
        tally.refused.push({ fileName: file.name, reason: wordsOf(error) });
      }
    }
    const { stored, known, refused } = tally;
    this.#post({ type: 'imported', stored, known, refused });
    await this.#sets.list();
  }

  async #importArchive(archive: File, tally: Tally): Promise<void> {
    try {
      for await (const file of unpackArchive(archive)) await this.#importSet(file, tally);
    } catch (error) {
      if (!(error instanceof ArchiveError)) throw error;
      tally.refused.push({ fileName: archive.name, reason: error.message });
    }
  }

  /** Reads a file to its end before anything is stored. */
  async #importSet({ name, bytes }: ArchivedFile, tally: Tally): Promise<void> {
    const refuse = (reason: string) => tally.refused.push({ fileName: name, reason });
    const result = readSet(bytes);
    if (!result.ok) {
      refuse(result.error.message);
      return;
    }
    const { setId } = result.set.description;
    if (tally.setIds.has(setId)) {
      if (isSame(await this.#sets.bytesOf(setId), bytes)) tally.known++;
      else {
        refuse(
          `Another version of set '${setId}' is stored, and is kept. Delete that one first if you want this one.`,
        );
      }
      return;
    }
    try {
      await this.#write(setId, bytes);
      tally.setIds.add(setId);
      tally.stored++;
    } catch (error) {
      refuse(wordsOf(error));
    }
  }

  async #write(setId: string, bytes: Uint8Array): Promise<void> {
    const file = await this.#storage.create(setId);
    let isWhole = false;
    try {
      file.append(bytes);
      file.flush();
      isWhole = true;
    } finally {
      file.close();
      if (!isWhole) await this.#storage.remove(setId);
    }
  }

  /** Posts every set in archives, part by part; one that cannot be read is told and left out. */
  async exportAll(): Promise<void> {
    const rows = await this.#sets.rows();
    const archives = inArchives(rows);
    for (const [i, archive] of archives.entries()) {
      const place = archives.length === 1 ? '' : `-${i + 1}-of-${archives.length}`;
      const fileName = `reach-funnel-sets${place}.zip`;
      await packArchive(this.#filesOf(archive), (bytes, isLast) =>
        this.#post({ type: 'file-part', fileName, bytes, isLast }),
      );
    }
  }

  async *#filesOf(rows: readonly SetSummary[]): AsyncGenerator<ArchivedFile> {
    for (const { setId } of rows) {
      try {
        yield { name: `${setId}.mcap`, bytes: await this.#sets.bytesOf(setId) };
      } catch (error) {
        const message = `Set '${setId}' is missing from the archive: ${wordsOf(error)}`;
        this.#post({ type: 'trouble', trouble: { code: 'set-unreadable', message } });
      }
    }
  }

  /** Removes every set of a player for good, whatever else of theirs can be removed when one cannot. */
  async deletePlayer(player: string): Promise<void> {
    let sets = 0;
    for (const row of await this.#sets.rows()) {
      if (row.player !== player) continue;
      await this.#sets.remove(row.setId);
      sets++;
    }
    await this.#storage.forgetPlayer(player);
    this.#post({ type: 'player-deleted', player, sets });
    await this.#sets.list();
  }
}

/** @throws RangeError when it is too large for a set; none of it is read then */
async function read(file: File): Promise<ArchivedFile> {
  if (file.size > MAX_FILE_BYTES) {
    throw new RangeError(
      `The file is larger than ${MAX_FILE_BYTES / 2 ** 20} MB, which no set is. Choose another file.`,
    );
  }
  return { name: file.name, bytes: new Uint8Array(await file.arrayBuffer()) };
}

/** As many archives as their size asks for; one at least, so that an empty one says that there was nothing. */
function inArchives(rows: readonly SetSummary[]): SetSummary[][] {
  const archives: SetSummary[][] = [[]];
  let bytes = 0;
  for (const row of rows) {
    bytes += row.sizeBytes;
    if (bytes > MAX_ARCHIVE_BYTES) {
      archives.push([]);
      bytes = row.sizeBytes;
    }
    archives.at(-1)!.push(row);
  }
  return archives;
}

function isSame(a: Uint8Array, b: Uint8Array): boolean {
  return a.length === b.length && a.every((byte, i) => byte === b[i]);
}
