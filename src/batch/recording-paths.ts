import { type Dirent, readdirSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { RecordingFileError } from './read-recording.ts';

/** A file to be read, as it is on the disk now. */
export interface RecordingPath {
  readonly path: string;
  readonly sizeBytes: number;
  readonly modifiedMs: number;
}

const SET_FILE = /\.mcap(\.gz)?$/i;
const TABLE = /\.csv(\.gz)?$/i;

/**
 * The recordings meant by files and folders: files as they are named, folders with everything in and below them.
 * @param withTables tables count too, because there is a mapping for them
 * @returns in the order of their names, each once
 * @throws RecordingFileError when a path does not exist or a folder cannot be read
 */
export function recordingPaths(paths: readonly string[], withTables: boolean): RecordingPath[] {
  const found = new Map<string, RecordingPath>();
  const add = (path: string): void => {
    const { size, mtimeMs } = statSync(path);
    found.set(path, { path, sizeBytes: size, modifiedMs: Math.round(mtimeMs) });
  };
  const isMeant = (name: string): boolean =>
    SET_FILE.test(name) || (withTables && TABLE.test(name));
  const walk = (folder: string): void => {
    for (const entry of readFolder(folder)) {
      const path = join(folder, entry.name);
      if (entry.isDirectory()) walk(path);
      else if (entry.isFile() && isMeant(entry.name)) add(path);
    }
  };
  for (const path of paths) {
    if (isFolder(path)) walk(path);
    else add(path);
  }
  return [...found.values()].sort((a, b) => (a.path < b.path ? -1 : 1));
}

/** Whether a path is a folder. @throws RecordingFileError when there is nothing */
export function isFolder(path: string): boolean {
  try {
    return statSync(path).isDirectory();
  } catch {
    throw new RecordingFileError(`${path} does not exist. Check the name.`);
  }
}

function readFolder(folder: string): Dirent[] {
  try {
    return readdirSync(folder, { withFileTypes: true });
  } catch (error) {
    const why = error instanceof Error ? error.message : String(error);
    throw new RecordingFileError(`${folder} cannot be read (${why}).`);
  }
}
