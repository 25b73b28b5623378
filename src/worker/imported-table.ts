import { CsvError, type CsvErrorCode } from '../core/recording/csv-error.ts';
import { type CsvMapping, readCsvMapping } from '../core/recording/csv-mapping.ts';
import { type CsvRecording, recordingFromCsv } from '../core/recording/csv-recording.ts';
import { parseJson, ShapeError } from '../core/recording/json-shape.ts';
import { atFileTime } from '../core/recording/set-file-format.ts';
import { SetWriter } from '../core/recording/set-writer.ts';
import { TableError } from '../core/recording/table-error.ts';
import { readTableMapping } from '../core/recording/table-mapping.ts';
import { previewTable } from '../core/recording/table-preview.ts';
import { reportTable, type TableReport } from '../core/recording/table-report.ts';
import type { FromWorker, ReadTables } from './contract.ts';
import { freeSetId } from './free-set-id.ts';
import type { SetPipeline, SetStorage } from './set-ports.ts';
import type { StoredSets } from './stored-sets.ts';
import { readBeginning, readWhole } from './table-file.ts';

type ImportTable = Extract<ReadTables, { type: 'import-table' }>;

/** A saved mapping is some kilobytes. */
const MOST_MAPPING_BYTES = 2 ** 20;
/** A hostile table cannot fill the screen with its names. */
const LONGEST_REASON = 600;
/** Records that are written at once: a write costs more than a millisecond. */
const WRITTEN_AT_ONCE = 500;
/** What the screen calls that which the words of an error call by its name in the mapping file. */
const WHERE: Readonly<Partial<Record<CsvErrorCode, string>>> = {
  'missing-column': 'Here: choose another column.',
  'ragged-row': 'Here: "Between columns".',
  'time-not-forward': 'Here: "Time" and "Unit of the time".',
  'implausible-rate': 'Here: "Time" and "Unit of the time".',
  'implausible-values': 'Here: "Unit of the gyroscopes" and "Unit of the accelerometers".',
};

/** What the session lends. */
interface Lent {
  readonly post: (message: FromWorker) => void;
  readonly storage: SetStorage;
  readonly pipeline: SetPipeline;
  readonly sets: StoredSets;
}

/** Tables of other sensors: looked at, checked, and brought in as sets. */
export class ImportedTables {
  readonly #lent: Lent;

  constructor(lent: Lent) {
    this.#lent = lent;
  }

  /**
   * Answers one message; what is wrong with a file becomes `table-refused`.
   * @throws StorageError when a set cannot be stored; nothing of it is left then
   */
  async take(message: ReadTables): Promise<void> {
    try {
      if (message.type === 'preview-table') await this.#preview(message);
      else if (message.type === 'read-mapping') await this.#readMapping(message.file);
      else await this.#import(message);
    } catch (error) {
      if (!isRefusal(error)) throw error;
      const where = error instanceof CsvError ? WHERE[error.code] : undefined;
      const reason = shortened(error.message);
      this.#lent.post({
        type: 'table-refused',
        reason: where === undefined ? reason : `${reason} ${where}`,
      });
    }
  }

  async #preview({ file, delimiter }: Extract<ReadTables, { type: 'preview-table' }>) {
    const { text, isWhole } = await readBeginning(file);
    const preview = previewTable(text, isWhole, delimiter);
    this.#lent.post({ type: 'table-preview', preview });
  }

  async #readMapping(file: File): Promise<void> {
    if (file.size > MOST_MAPPING_BYTES) {
      throw new ShapeError('This file is too large for a mapping. Choose one that was saved here.');
    }
    const mapping = readTableMapping(parseJson(await file.text(), 'the mapping'));
    this.#lent.post({ type: 'table-mapping', mapping });
  }

  async #import({ file, mapping: wanted, isCheck, programVersion }: ImportTable): Promise<void> {
    const { post, sets } = this.#lent;
    const taken = (await sets.rows()).map(({ setId }) => setId);
    const mapping = readCsvMapping(
      {
        startedAt: new Date(file.lastModified).toISOString(),
        ...wanted,
        setId: freeSetId(file.name, taken),
      },
      programVersion,
    );
    const { recording, rows } = await readRecording(file, mapping);
    const report = reportTable(recording);
    if (isCheck) {
      this.#postCheck(recording, report, rows);
      return;
    }
    await this.#store(recording);
    post({ type: 'table-imported', setId: mapping.description.setId });
    await sets.list();
  }

  /** What the set would be, computed as it will be once it is stored. */
  #postCheck({ description, records }: CsvRecording, report: TableReport, rows: number): void {
    const run = this.#lent.pipeline.start(description);
    for (const record of records) run.step(atFileTime(record));
    const { swings, zero } = run.view();
    const reaches = swings.filter(({ swing }) => swing.voidReason === null).length;
    const check = { report, rows, swings: swings.length, reaches, zero };
    this.#lent.post({ type: 'table-checked', check });
  }

  async #store({ description, records }: CsvRecording): Promise<void> {
    const { storage } = this.#lent;
    const file = await storage.create(description.setId);
    let isWhole = false;
    try {
      const writer = SetWriter.open(file, description);
      for (const [i, record] of records.entries()) {
        writer.add(record);
        if (i % WRITTEN_AT_ONCE === 0) writer.send();
      }
      writer.send();
      writer.end();
      file.flush();
      isWhole = true;
    } finally {
      file.close();
      if (!isWhole) await storage.remove(description.setId);
    }
  }
}

/** @throws TableError, CsvError when it cannot be read, for its content or for its size */
async function readRecording(
  file: File,
  mapping: CsvMapping,
): Promise<{ readonly recording: CsvRecording; readonly rows: number }> {
  const { text, lines } = await readWhole(file);
  try {
    return { recording: recordingFromCsv(text, mapping), rows: lines - 1 };
  } catch (error) {
    // What browsers throw when a text or a list outgrows them.
    if (!(error instanceof RangeError)) throw error;
    throw new TableError(
      `The table is too long to be read at once: ${lines - 1} rows. Save it in parts.`,
    );
  }
}

function isRefusal(error: unknown): error is Error {
  return error instanceof TableError || error instanceof CsvError || error instanceof ShapeError;
}

function shortened(text: string): string {
  return text.length > LONGEST_REASON ? `${text.slice(0, LONGEST_REASON)}…` : text;
}
