import type { CatalogueRow } from './catalogue-row.ts';
import { withDatabase } from './database.ts';
import type { FoundFile, StoredFile } from './set-files.ts';

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
 * @param tell takes the rows as they are, newest first, before sizes are looked at; only when every file has one
 * @returns newest first
 * @throws StorageError when the database cannot be read or written
 */
export async function reconcileCatalogue(
  files: readonly FoundFile[],
  summarise: (file: StoredFile) => Promise<CatalogueRow | null>,
  tell: (rows: readonly CatalogueRow[]) => void,
): Promise<readonly CatalogueRow[]> {
  const known = await withDatabase((database) => database.getAll('sets'));
  const found = new Set(files.map(({ setId }) => setId));
  const listed = known.filter(({ setId }) => found.has(setId));
  if (listed.length === files.length) tell(listed.sort(newestFirst));
  // Asked for all at once: hundreds of files one after the other take their time.
  const sized = await Promise.all(
    files.map(async (file) => ({ setId: file.setId, sizeBytes: await file.sizeBytes() })),
  );
  const { kept, stale, orphans } = compareWithFiles(known, sized);
  const rebuilt: CatalogueRow[] = [];
  for (const file of stale) {
    const row = await summarise(file);
    if (row !== null) rebuilt.push(row);
  }
  // Nearly always nothing has changed: a list is not kept waiting for a write of nothing.
  if (orphans.length + rebuilt.length > 0) await changeRows(orphans, rebuilt);
  return [...kept, ...rebuilt].sort(newestFirst);
}

function newestFirst(a: CatalogueRow, b: CatalogueRow): number {
  return b.startedAtMs - a.startedAtMs;
}

async function changeRows(
  orphans: readonly string[],
  rebuilt: readonly CatalogueRow[],
): Promise<void> {
  await withDatabase(async (database) => {
    const change = database.transaction('sets', 'readwrite');
    await Promise.all([
      ...orphans.map((setId) => change.store.delete(setId)),
      ...rebuilt.map((row) => change.store.put(row)),
      change.done,
    ]);
  });
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
