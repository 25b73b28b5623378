import { Unzip, UnzipInflate, Zip, ZipPassThrough } from 'fflate';
import { joinedBytes } from '../core/recording/joined-bytes.ts';

/** One file in an archive. */
export interface ArchivedFile {
  readonly name: string;
  readonly bytes: Uint8Array;
}

/** No set comes near this: four hours are some 150 MB. A hostile file must not fill the memory. */
export const MAX_FILE_BYTES = 2 ** 29;
/** ZIP without its 64-bit extension ends at 4 GB; half of that leaves room. */
export const MAX_ARCHIVE_BYTES = 2 ** 31;
/** Unpacked all at once, and into 1032 times as much at worst (zlib's technical details): 68 MB. */
const PIECE_BYTES = 2 ** 16;

/** An archive that cannot be read; `message` says why. */
export class ArchiveError extends Error {
  override readonly name = 'ArchiveError';
}

/**
 * Packs files, stored as they are, one at a time.
 * @param files read one after another as they are wanted
 * @param onPart takes the archive's bytes in order; the last part says so
 * Source: .ZIP File Format Specification 6.3 (PKWARE), written by fflate.
 */
export async function packArchive(
  files: AsyncIterable<ArchivedFile>,
  onPart: (bytes: Uint8Array, isLast: boolean) => void,
): Promise<void> {
  const zip = new Zip((error, bytes, isLast) => {
    if (error !== null) throw error;
    onPart(bytes, isLast);
  });
  for await (const { name, bytes } of files) {
    const entry = new ZipPassThrough(name);
    zip.add(entry);
    entry.push(bytes, true);
  }
  zip.end();
}

/**
 * The files in an archive, one at a time; folders are left out.
 * @throws ArchiveError when it is no archive, or one of its files is absurdly large
 */
export async function* unpackArchive(archive: Blob): AsyncGenerator<ArchivedFile, void, void> {
  const ready: ArchivedFile[] = [];
  let fault: string | null = null;
  let files = 0;
  const unzip = new Unzip((entry) => {
    const parts: Uint8Array[] = [];
    let size = 0;
    files++;
    entry.ondata = (error, part, isLast) => {
      if (error !== null) fault ??= error.message;
      if (fault !== null) return;
      size += part.length;
      if (size > MAX_FILE_BYTES) {
        fault = `'${entry.name.slice(0, 60)}' in it is larger than ${MAX_FILE_BYTES / 2 ** 20} MB`;
        entry.terminate();
        return;
      }
      parts.push(part);
      if (isLast && !entry.name.endsWith('/'))
        ready.push({ name: entry.name, bytes: joinedBytes(parts) });
    };
    entry.start();
  });
  unzip.register(UnzipInflate);
  for (let at = 0; at < archive.size; at += PIECE_BYTES) {
    const piece = new Uint8Array(await archive.slice(at, at + PIECE_BYTES).arrayBuffer());
    try {
      unzip.push(piece, at + PIECE_BYTES >= archive.size);
    } catch (error) {
      fault ??= error instanceof Error ? error.message : String(error);
    }
    yield* ready.splice(0);
    if (fault !== null) throw new ArchiveError(`The archive cannot be read further: ${fault}.`);
  }
  if (files === 0) throw new ArchiveError('This is no archive of sets: it holds no file.');
}
