import type { FileTail } from '../core/recording/append-events.ts';
import { readSetId } from '../core/recording/description-json.ts';
import type { ByteSink } from '../core/recording/set-writer.ts';
import { StorageError, storageErrorFrom, unavailable } from './storage-error.ts';

/** The file of a set being recorded. Every failure is thrown as a StorageError. */
export interface RunningFile extends ByteSink {
  /** Everything appended so far survives a crash of the browser or the device. */
  flush(): void;
  /** All bytes appended so far. */
  read(): Uint8Array;
  /** Lets go of the file and its lock; harmless when repeated. */
  close(): void;
}

/** One set file in storage. */
export interface StoredFile {
  readonly setId: string;
  readonly sizeBytes: number;
}

/** One set file as a look at the folder finds it. */
export interface FoundFile {
  readonly setId: string;
  /** Asked for one by one: with hundreds of files it takes ten times as long as finding them. */
  sizeBytes(): Promise<number>;
}

const DIRECTORY = 'sets';
const SUFFIX = '.mcap';
const LOCK_PREFIX = 'reach-funnel/running-set/';

/**
 * Creates the file of a new set, locked against other tabs until it is closed. Works in a
 * dedicated worker only, where synchronous access exists.
 * @throws StorageError when storage is missing or full, or the set already has a file
 */
export async function createSetFile(setId: string): Promise<RunningFile> {
  const name = fileName(setId);
  const release = await holdLock(setId);
  try {
    const directory = await openDirectory();
    if (await hasFile(directory, name)) {
      throw new StorageError(
        'unexpected',
        `A set named '${setId}' is already stored and is never overwritten. Start a new set.`,
      );
    }
    const file = await directory.getFileHandle(name, { create: true });
    return new LockedFile(await file.createSyncAccessHandle(), release);
  } catch (error) {
    release();
    throw storageErrorFrom(error);
  }
}

/**
 * All set files but those being recorded now, in this tab or another.
 * @throws StorageError when storage is missing
 */
export async function findSetFiles(): Promise<readonly FoundFile[]> {
  try {
    const directory = await openDirectory();
    const running = await runningSets();
    const found: FoundFile[] = [];
    for await (const [name, entry] of directory.entries()) {
      const setId = name.slice(0, -SUFFIX.length);
      if (!name.endsWith(SUFFIX) || !isFile(entry) || running.has(setId)) continue;
      found.push({ setId, sizeBytes: async () => (await entry.getFile()).size });
    }
    return found;
  } catch (error) {
    throw storageErrorFrom(error);
  }
}

/**
 * The bytes of a stored set.
 * @throws StorageError when there is no such file or storage is missing
 */
export async function readSetFile(setId: string): Promise<Uint8Array> {
  try {
    const directory = await openDirectory();
    const file = await (await directory.getFileHandle(fileName(setId))).getFile();
    return new Uint8Array(await file.arrayBuffer());
  } catch (error) {
    throw storageErrorFrom(error);
  }
}

/**
 * Puts other bytes in place of the end of a stored set, on the disk before this returns.
 * @throws StorageError when there is no such file, it is being recorded, or storage is full or missing; the file is
 *   then as it was
 */
export async function changeSetFileTail(
  setId: string,
  { keptBytes, tail }: FileTail,
): Promise<void> {
  const name = fileName(setId);
  const release = await holdLock(setId);
  try {
    const directory = await openDirectory();
    const file = await directory.getFileHandle(name);
    const handle = await file.createSyncAccessHandle();
    const before = new Uint8Array(Math.max(0, handle.getSize() - keptBytes));
    handle.read(before, { at: keptBytes });
    try {
      const written = handle.write(tail as Uint8Array<ArrayBuffer>, { at: keptBytes });
      if (written < tail.length) throw new DOMException('short write', 'QuotaExceededError');
      handle.truncate(keptBytes + tail.length);
      handle.flush();
    } catch (error) {
      // the old end had its place: it fits again
      handle.write(before, { at: keptBytes });
      handle.truncate(keptBytes + before.length);
      throw error;
    } finally {
      handle.close();
    }
  } catch (error) {
    throw storageErrorFrom(error);
  } finally {
    release();
  }
}

/**
 * Removes the file of a stored set for good.
 * @throws StorageError when it is being recorded or storage is missing
 */
export async function removeSetFile(setId: string): Promise<void> {
  const name = fileName(setId);
  const release = await holdLock(setId);
  try {
    await (await openDirectory()).removeEntry(name);
  } catch (error) {
    throw storageErrorFrom(error);
  } finally {
    release();
  }
}

class LockedFile implements RunningFile {
  readonly #handle: FileSystemSyncAccessHandle;
  readonly #release: () => void;
  #size = 0;

  constructor(handle: FileSystemSyncAccessHandle, release: () => void) {
    this.#handle = handle;
    this.#release = release;
  }

  append(bytes: Uint8Array): void {
    this.#try(() => {
      // The handle wants a plain buffer behind the view; all of ours are.
      const written = this.#handle.write(bytes as Uint8Array<ArrayBuffer>, { at: this.#size });
      this.#size += written;
      // Some browsers write what still fits instead of throwing.
      if (written < bytes.length) throw new DOMException('short write', 'QuotaExceededError');
    });
  }

  flush(): void {
    this.#try(() => this.#handle.flush());
  }

  read(): Uint8Array {
    return this.#try(() => {
      const bytes = new Uint8Array(this.#size);
      return bytes.subarray(0, this.#handle.read(bytes, { at: 0 }));
    });
  }

  close(): void {
    try {
      this.#handle.close();
    } finally {
      this.#release();
    }
  }

  #try<T>(action: () => T): T {
    try {
      return action();
    } catch (error) {
      throw storageErrorFrom(error);
    }
  }
}

async function openDirectory(): Promise<FileSystemDirectoryHandle> {
  // Typed as always present; missing in private windows and outside secure contexts.
  const storage = navigator.storage as StorageManager | undefined;
  if (typeof storage?.getDirectory !== 'function') throw unavailable();
  const root = await storage.getDirectory();
  return root.getDirectoryHandle(DIRECTORY, { create: true });
}

async function hasFile(directory: FileSystemDirectoryHandle, name: string): Promise<boolean> {
  try {
    await directory.getFileHandle(name);
    return true;
  } catch (error) {
    if (error instanceof DOMException && error.name === 'NotFoundError') return false;
    throw error;
  }
}

/** Takes the set's lock at once or fails; the promise given to the browser holds it. */
function holdLock(setId: string): Promise<() => void> {
  return new Promise((resolve, reject) => {
    const locks = navigator.locks as LockManager | undefined;
    if (locks === undefined) {
      reject(unavailable());
      return;
    }
    locks
      .request(LOCK_PREFIX + setId, { ifAvailable: true }, (lock) => {
        if (lock === null) {
          reject(storageErrorFrom(new DOMException('locked', 'NoModificationAllowedError')));
          return;
        }
        return new Promise<void>((release) => resolve(release));
      })
      .catch((error: unknown) => reject(storageErrorFrom(error)));
  });
}

async function runningSets(): Promise<ReadonlySet<string>> {
  const { held } = await navigator.locks.query();
  const names = (held ?? []).map((lock) => lock.name ?? '');
  return new Set(
    names
      .filter((name) => name.startsWith(LOCK_PREFIX))
      .map((name) => name.slice(LOCK_PREFIX.length)),
  );
}

function isFile(entry: FileSystemHandle): entry is FileSystemFileHandle {
  return entry.kind === 'file';
}

/** Checked, because the name comes from another thread or a file. */
function fileName(setId: string): string {
  return readSetId(setId) + SUFFIX;
}
