import type { ExportedFile, SetExport } from '../core/exports/set-export.ts';
import { joinedBytes } from '../core/recording/joined-bytes.ts';
import type { StoredSet } from '../core/recording/set-reader.ts';
import { type ArchivedFile, packArchive } from './archive.ts';
import type { FromWorker } from './contract.ts';

type Post = (message: FromWorker) => void;

/** Makes an export of a set and posts it piece by piece; a data set of many files travels as one archive. */
export async function postExport(
  post: Post,
  set: StoredSet,
  kind: SetExport,
  programVersion: string,
): Promise<void> {
  // a Parquet writer that the court never needs
  const { exportSet } = await import('../core/exports/set-export.ts');
  const files = exportSet(set, kind, programVersion);
  if (kind === 'motion-bids') {
    const fileName = `${set.description.setId}-motion-bids.zip`;
    await packArchive(archived(files), (bytes, isLast) =>
      post({ type: 'file-part', fileName, bytes, isLast }),
    );
    return;
  }
  for (const { path, parts } of files) {
    for (const part of parts) {
      post({ type: 'file-part', fileName: path, bytes: bytesOf(part), isLast: false });
    }
    post({ type: 'file-part', fileName: path, bytes: new Uint8Array(0), isLast: true });
  }
}

async function* archived(files: Iterable<ExportedFile>): AsyncGenerator<ArchivedFile> {
  for (const { path, parts } of files) {
    yield { name: path, bytes: joinedBytes(Array.from(parts, bytesOf)) };
  }
}

function bytesOf(part: string | Uint8Array<ArrayBuffer>): Uint8Array<ArrayBuffer> {
  return typeof part === 'string' ? new TextEncoder().encode(part) : part;
}
