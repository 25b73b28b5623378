import { readFileSync } from 'node:fs';
import { gunzipSync } from 'node:zlib';
import type { FileState } from '../core/exports/set-row.ts';
import { CsvError } from '../core/recording/csv-error.ts';
import { readCsvMapping } from '../core/recording/csv-mapping.ts';
import { recordingFromCsv } from '../core/recording/csv-recording.ts';
import { parseJson, ShapeError } from '../core/recording/json-shape.ts';
import type { SetDescription } from '../core/recording/set-description.ts';
import { readSet } from '../core/recording/set-reader.ts';
import type { SetRecord } from '../core/recording/set-record.ts';
import { textFromBytes } from '../core/recording/text-bytes.ts';

/** A recording from disk, whatever its format. */
export interface Recording {
  readonly description: SetDescription;
  readonly records: readonly SetRecord[];
  /** How whole a set file was; null for a table. */
  readonly file: FileState | null;
  /** What is wrong with the file although it could be read, in words; null when nothing is. */
  readonly warning: string | null;
}

/** A file cannot be used; `message` names it and says what to do. */
export class RecordingFileError extends Error {
  override readonly name = 'RecordingFileError';
}

/** A hostile .gz must not fill the memory: no set of ours comes near this. */
const MAX_UNZIPPED_BYTES = 2 ** 30;

/**
 * Reads a set file, or a CSV table when a mapping is given; either may be gzipped.
 * @param path the recording
 * @param mappingPath JSON mapping of the table's columns; null for a set file
 * @param programVersion for the description of an imported table
 * @throws RecordingFileError when a file is missing, damaged or does not fit its mapping
 */
export function readRecording(
  path: string,
  mappingPath: string | null,
  programVersion: string,
): Recording {
  const bytes = readBytes(path);
  if (mappingPath === null) return setFrom(bytes, path);
  const mapping = within(mappingPath, () =>
    readCsvMapping(parseJson(readText(mappingPath), 'the mapping'), programVersion),
  );
  const recording = within(path, () => recordingFromCsv(textFromBytes(bytes), mapping));
  return { ...recording, file: null, warning: null };
}

function setFrom(bytes: Uint8Array, path: string): Recording {
  const result = readSet(bytes);
  if (!result.ok) {
    const hint =
      result.error.code === 'not-a-set-file' ? ' For a CSV table add --mapping FILE.json.' : '';
    throw new RecordingFileError(`${path}: ${result.error.message}${hint}`);
  }
  const { description, records, complete, fault, lostBytes, skippedRecords } = result.set;
  return {
    description,
    records,
    file: { complete, fault, lostBytes, skippedRecords },
    warning: complete
      ? null
      : `${path}: ${fault} What follows comes from the ${records.length} records that could be read.`,
  };
}

/**
 * The text of a file, gzipped or not.
 * @throws RecordingFileError when it cannot be read
 */
export function readText(path: string): string {
  return within(path, () => textFromBytes(readBytes(path)));
}

function readBytes(path: string): Uint8Array {
  return within(path, () => {
    const bytes = readFileSync(path);
    return path.endsWith('.gz')
      ? gunzipSync(bytes, { maxOutputLength: MAX_UNZIPPED_BYTES })
      : bytes;
  });
}

/**
 * Reads something, with the file's name before what is wrong in it or on the disk.
 * @throws RecordingFileError instead of a CsvError, ShapeError or error of the disk
 */
export function within<T>(path: string, read: () => T): T {
  try {
    return read();
  } catch (error) {
    if (error instanceof CsvError || error instanceof ShapeError) {
      throw new RecordingFileError(`${path}: ${error.message}`);
    }
    if (error instanceof Error && 'code' in error) {
      throw new RecordingFileError(
        `${path} cannot be read (${error.message}). Check the name and that the file is whole.`,
      );
    }
    throw error;
  }
}
