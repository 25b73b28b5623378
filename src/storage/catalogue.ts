import { type DBSchema, type IDBPDatabase, openDB } from 'idb';
import type { SetDescription } from '../core/recording/set-description.ts';
import type { StoredFile } from './set-files.ts';
import { storageErrorFrom, unavailable } from './storage-error.ts';

/** What the list of sets shows of one; the same fields as SetSummary of the worker's contract. */
export interface CatalogueRow
  extends Pick<
    SetDescription,
    'setId' | 'startedAtMs' | 'source' | 'player' | 'implement' | 'ball'
  > {
  readonly swings: number;
  readonly sizeBytes: number;
}

interface CatalogueSchema extends DBSchema {
  sets: { key: string; value: CatalogueRow };
}

const DATABASE = 'reach-funnel';
const VERSION = 1;

/**
 * Keeps one row so that the list need not read the file again.
 * @throws StorageError when the database cannot be written
 */
export async function putCatalogueRow(row: CatalogueRow): Promise<void> {
  await withDatabase((database) => database.put('sets', row));
}

/**
 * Takes the row of a set out whose file has gone.
 * @throws StorageError when the database cannot be written
 */
export async function removeCatalogueRow(setId: string): Promise<void> {
  await withDatabase((database) => database.delete('sets', setId));
}

/**
 * The rows of all stored sets. Files are the truth: a row that is missing, or whose file has
 * another size, is made anew from the file; a row without a file is removed.
 * @param files every set file now in storage
 * @param summarise reads one file; null when it is no readable set, which is then left out
 * @returns newest first
 * @throws StorageError when the database cannot be read or written
 */
export async function reconcileCatalogue(
  files: readonly StoredFile[],
  summarise: (file: StoredFile) => Promise<CatalogueRow | null>,
): Promise<readonly CatalogueRow[]> {
  const known = await withDatabase((database) => database.getAll('sets'));
  const { kept, stale, orphans } = compareWithFiles(known, files);
  const rebuilt: CatalogueRow[] = [];
  for (const file of stale) {
    const row = await summarise(file);
    if (row !== null) rebuilt.push(row);
  }
  await withDatabase(async (database) => {
    const change = database.transaction('sets', 'readwrite');
    await Promise.all([
      ...orphans.map((setId) => change.store.delete(setId)),
      ...rebuilt.map((row) => change.store.put(row)),
      change.done,
    ]);
  });
  return [...kept, ...rebuilt].sort((a, b) => b.startedAtMs - a.startedAtMs);
}

/** Where rows and files agree, which files need a row, and which rows have lost their file. */
export function compareWithFiles(
  rows: readonly CatalogueRow[],
  files: readonly StoredFile[],
): {
  readonly kept: readonly CatalogueRow[];
  readonly stale: readonly StoredFile[];
  readonly orphans: readonly string[];
} {
  const rowOf = new Map(rows.map((row) => [row.setId, row]));
  const fits = (file: StoredFile): boolean => rowOf.get(file.setId)?.sizeBytes === file.sizeBytes;
  const fileIds = new Set(files.map((file) => file.setId));
  return {
    kept: files.filter(fits).map((file) => rowOf.get(file.setId)!),
    stale: files.filter((file) => !fits(file)),
    orphans: rows.map((row) => row.setId).filter((setId) => !fileIds.has(setId)),
  };
}

/** Opened for each use: a connection kept open would block other tabs from a newer version. */
async function withDatabase<T>(
  use: (database: IDBPDatabase<CatalogueSchema>) => Promise<T>,
): Promise<T> {
  // Typed as always present; missing in some private windows.
  if ((globalThis.indexedDB as IDBFactory | undefined) === undefined) throw unavailable();
  try {
    const database = await openDB<CatalogueSchema>(DATABASE, VERSION, {
      upgrade: (fresh) => {
        fresh.createObjectStore('sets', { keyPath: 'setId' });
      },
    });
    try {
      return await use(database);
    } finally {
      database.close();
    }
  } catch (error) {
    throw storageErrorFrom(error);
  }
}
