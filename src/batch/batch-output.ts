import {
  appendFileSync,
  existsSync,
  mkdirSync,
  readFileSync,
  renameSync,
  rmSync,
  truncateSync,
  writeFileSync,
} from 'node:fs';
import { join } from 'node:path';
import { csvChunks } from '../core/exports/csv.ts';
import { parquetChunks } from '../core/exports/parquet.ts';
import { SET_COLUMNS } from '../core/exports/set-table.ts';
import { SWING_COLUMNS } from '../core/exports/swing-table.ts';
import { type Cell, type Column, columnList, type Table } from '../core/exports/table.ts';
import type { RecordingPath } from './recording-paths.ts';

export const BATCH_FORMATS = ['parquet', 'csv', 'json'] as const;
/** `json` is one object a line. */
export type BatchFormat = (typeof BATCH_FORMATS)[number];

const EXTENSIONS: Readonly<Record<BatchFormat, string>> = {
  parquet: 'parquet',
  csv: 'csv',
  json: 'jsonl',
};
/** Files whose rows share one part: so much work a crash costs at most. */
const FILES_PER_PART = 64;
const DONE = 'done.jsonl';

type Rows = readonly (readonly Cell[])[];

/** A file that need not be read again while it stays as it is. */
interface DoneFile extends RecordingPath {
  /** Of what its rows depend on beside the file. */
  readonly made: string;
  /** null: its rows are in a part. */
  readonly problem: string | null;
}

/** One line of `done.jsonl`: all files of a part, so that a crash leaves all of them or none. */
interface DonePart {
  readonly part: number;
  readonly files: readonly DoneFile[];
}

/** What decides whether rows made earlier still hold. */
export interface MadeWith {
  readonly format: BatchFormat;
  readonly programVersion: string;
  readonly resamples: number;
}

/** What is in the folder does not go with what is to be added; `message` says why and what to do. */
export class StaleOutputError extends Error {
  override readonly name = 'StaleOutputError';
}

/**
 * The folder a batch writes: `swings/part-*.parquet` and `sets/part-*.parquet` (or `.csv`, `.jsonl`), `columns.csv`
 * with what the columns mean, and `done.jsonl`. A part and its line there appear together or not at all: the part is renamed
 * into place first, and a part no line speaks of is written over by the next run.
 */
export class BatchOutput {
  readonly #folder: string;
  readonly #made: MadeWith;
  readonly #madeKey: string;
  readonly #known = new Map<string, DoneFile>();
  #part = 0;
  #swings: (readonly Cell[])[] = [];
  #sets: (readonly Cell[])[] = [];
  #files: DoneFile[] = [];

  /**
   * Opens a folder, new or of an earlier run.
   * @param isFresh what an earlier run left there is removed
   * @throws Error of the disk
   */
  constructor(folder: string, made: MadeWith, isFresh: boolean) {
    this.#folder = folder;
    this.#made = made;
    this.#madeKey = `${made.programVersion} ${made.format} ${made.resamples}`;
    for (const table of ['swings', 'sets']) {
      if (isFresh) rmSync(join(folder, table), { recursive: true, force: true });
      mkdirSync(join(folder, table), { recursive: true });
    }
    if (isFresh) rmSync(join(folder, DONE), { force: true });
    for (const { part, files } of this.#readDone()) {
      this.#part = Math.max(this.#part, part);
      for (const file of files) this.#known.set(file.path, file);
    }
    const columns = columnList([
      { name: 'swing', columns: SWING_COLUMNS },
      { name: 'set', columns: SET_COLUMNS },
    ]);
    writeFileSync(join(folder, 'columns.csv'), [...csvChunks(columns)].join(''));
  }

  /**
   * Whether the rows of a file are there already; if it was bad, what was wrong.
   * @throws StaleOutputError when there are rows of an earlier state of the file, or made otherwise
   */
  known(file: RecordingPath): { readonly problem: string | null } | null {
    const line = this.#known.get(file.path);
    if (line === undefined) return null;
    const isSame = line.sizeBytes === file.sizeBytes && line.modifiedMs === file.modifiedMs;
    if (isSame && line.made === this.#madeKey) return { problem: line.problem };
    const why = isSame ? 'were made with other settings' : 'are of an earlier state of it';
    throw new StaleOutputError(
      `The rows of ${file.path} in ${this.#folder} ${why}. Name another folder with --out, or begin this one anew with --fresh.`,
    );
  }

  /** Takes in the rows of one file. */
  add(file: RecordingPath, swings: Rows, sets: Rows): void {
    this.#swings.push(...swings);
    this.#sets.push(...sets);
    this.#note(file, null);
  }

  /** Notes a file that cannot be used. */
  refuse(file: RecordingPath, problem: string): void {
    this.#note(file, problem);
  }

  #note(file: RecordingPath, problem: string | null): void {
    this.#files.push({ ...file, made: this.#madeKey, problem });
    if (this.#files.length >= FILES_PER_PART) this.flush();
  }

  /** Writes what has been taken in. */
  flush(): void {
    if (this.#files.length === 0) return;
    const part = this.#part + 1;
    if (this.#sets.length > 0) {
      this.#write('swings', part, { name: 'swing', columns: SWING_COLUMNS, rows: this.#swings });
      this.#write('sets', part, { name: 'set', columns: SET_COLUMNS, rows: this.#sets });
    }
    const done: DonePart = { part, files: this.#files };
    appendFileSync(join(this.#folder, DONE), `${JSON.stringify(done)}\n`);
    this.#part = part;
    this.#swings = [];
    this.#sets = [];
    this.#files = [];
  }

  #write(kind: 'swings' | 'sets', part: number, table: Table): void {
    const extension = EXTENSIONS[this.#made.format];
    const name = `part-${String(part).padStart(5, '0')}.${extension}`;
    const path = join(this.#folder, kind, name);
    writeFileSync(`${path}.tmp`, Buffer.concat(bytesOf(table, this.#made)));
    renameSync(`${path}.tmp`, path);
  }

  #readDone(): DonePart[] {
    const path = join(this.#folder, DONE);
    if (!existsSync(path)) return [];
    const text = readFileSync(path, 'utf8');
    // A line cut off by a crash would swallow the next one: it goes, and its files are read again.
    const whole = text.slice(0, text.lastIndexOf('\n') + 1);
    if (whole.length < text.length) truncateSync(path, Buffer.byteLength(whole));
    return whole.split('\n').flatMap((line) => {
      try {
        return line === '' ? [] : [JSON.parse(line) as DonePart];
      } catch {
        return [];
      }
    });
  }
}

function bytesOf(table: Table, { format, programVersion }: MadeWith): Uint8Array[] {
  const created = `reach-funnel ${programVersion}`;
  if (format === 'parquet') return [...parquetChunks(table, created)];
  const chunks = format === 'csv' ? csvChunks(table) : jsonLines(table);
  return [...chunks].map((text) => Buffer.from(text));
}

function* jsonLines({ columns, rows }: Table): Generator<string, void, void> {
  for (const row of rows) {
    const entries = columns.map((column, i) => [column.name, jsonCell(row[i]!, column)]);
    yield `${JSON.stringify(Object.fromEntries(entries))}\n`;
  }
}

function jsonCell(cell: Cell, { kind }: Column): Cell {
  return kind === 'time' && cell !== null ? new Date(Number(cell)).toISOString() : cell;
}
