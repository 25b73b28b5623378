import { readFileSync } from 'node:fs';
import { availableParallelism } from 'node:os';
import { parseArgs } from 'node:util';
import { createPipeline, stepPipeline } from '../core/pipeline/pipeline.ts';
import { reviewPipeline } from '../core/pipeline/review.ts';
import { setText } from '../reports/set-text.ts';
import { analyseMany } from './analyse-many.ts';
import { BATCH_FORMATS, type BatchFormat, StaleOutputError } from './batch-output.ts';
import { RecordingFileError, readRecording } from './read-recording.ts';
import { recordingPaths } from './recording-paths.ts';
import { setJson } from './set-json.ts';

const USAGE = `Usage: npm run analyse -- FILE [--json] [--mapping FILE.json]
       npm run analyse -- FILE_OR_FOLDER... --out FOLDER [options]

  FILE        a set file (.mcap), or a CSV table with --mapping; .gz is accepted.
              Alone it is printed as a report
  --mapping   JSON that says which columns of the tables are which sensor
              (see recorded-streams/FORMAT.md and src/core/recording/csv-mapping.ts)
  --json      prints results as JSON instead of a report
  --out       analyses all files, and all in and below the folders, into this folder:
              one row a swing in swings/, one a set and condition in sets/, what the
              columns mean in columns.csv. Stopped, it goes on when started again
  --format    ${BATCH_FORMATS.join(', ')} (one object a line); parquet unless said
  --resamples resamples of each interval; 2000 unless said
  --workers   processes; as many as there are cores unless said
  --fresh     begins the folder anew
Exit code: 0 all is well, 1 some file could not be used, 2 the question was not understood.`;

const EXIT_FILE = 1;
const EXIT_USAGE = 2;
const RESAMPLES = 2000;
const MOST_RESAMPLES = 100_000;
const MOST_WORKERS = 256;

interface Request {
  readonly paths: readonly string[];
  readonly mappingPath: string | null;
  readonly isJson: boolean;
  readonly outFolder: string | null;
  readonly format: BatchFormat;
  readonly resamples: number;
  readonly workers: number;
  readonly isFresh: boolean;
}

/** Where results and messages go; progress is for terminals alone. */
export interface Printer {
  /** Text with its ends of line. */
  out(text: string): void;
  /** One message without an end of line. */
  error(message: string): void;
}

/**
 * `npm run analyse`.
 * @param args as on the command line
 * @returns exit code: 0 all is well, 1 some file could not be used, 2 the question was not understood
 */
export async function analyseCommand(args: readonly string[], printer: Printer): Promise<number> {
  const request = readRequest(args);
  if (typeof request === 'string') {
    printer.error(`${request}\n\n${USAGE}`);
    return EXIT_USAGE;
  }
  try {
    const { outFolder } = request;
    if (outFolder === null) return printOne(request, printer);
    return await analyseAll({ ...request, outFolder }, printer);
  } catch (error) {
    if (!(error instanceof RecordingFileError || error instanceof StaleOutputError)) throw error;
    printer.error(error.message);
    return EXIT_FILE;
  }
}

function printOne({ paths, mappingPath, isJson }: Request, printer: Printer): number {
  const recording = readRecording(paths[0]!, mappingPath, programVersion());
  const state = createPipeline(recording.description);
  for (const record of recording.records) stepPipeline(state, record);
  const print = isJson ? setJson : setText;
  if (recording.warning !== null) printer.error(recording.warning);
  printer.out(print(reviewPipeline(state), recording.description));
  return 0;
}

async function analyseAll(
  request: Request & { readonly outFolder: string },
  printer: Printer,
): Promise<number> {
  const files = recordingPaths(request.paths, request.mappingPath !== null);
  if (files.length === 0) {
    throw new RecordingFileError(
      `There is no set file (.mcap) in ${request.paths.join(', ')}. For CSV tables add --mapping FILE.json.`,
    );
  }
  const terminal = process.stderr.isTTY ? process.stderr : null;
  const result = await analyseMany(
    { ...request, files, programVersion: programVersion() },
    terminal,
  );
  for (const words of [...result.warnings, ...result.problems]) printer.error(words);
  const known = result.known === 0 ? '' : `, ${result.known} analysed before`;
  printer.out(
    `${result.analysed} files analysed${known}; ${result.problems.length} could not be used. Rows are in ${request.outFolder}.\n`,
  );
  return result.problems.length === 0 ? 0 : EXIT_FILE;
}

/** What was asked, or what is wrong with the question. */
function readRequest(args: readonly string[]): Request | string {
  try {
    const { values, positionals } = parseArgs({
      args: [...args],
      allowPositionals: true,
      options: {
        json: { type: 'boolean' },
        mapping: { type: 'string' },
        out: { type: 'string' },
        format: { type: 'string' },
        resamples: { type: 'string' },
        workers: { type: 'string' },
        fresh: { type: 'boolean' },
      },
    });
    const format = BATCH_FORMATS.find((name) => name === (values.format ?? 'parquet'));
    const resamples = wholeNumber(values.resamples, RESAMPLES, MOST_RESAMPLES);
    const workers = wholeNumber(values.workers, availableParallelism(), MOST_WORKERS);
    if (format === undefined) return `--format must be one of ${BATCH_FORMATS.join(', ')}.`;
    if (resamples === null) return `--resamples must be a number from 1 to ${MOST_RESAMPLES}.`;
    if (workers === null) return `--workers must be a number from 1 to ${MOST_WORKERS}.`;
    const request: Request = {
      paths: positionals,
      mappingPath: values.mapping ?? null,
      isJson: values.json ?? false,
      outFolder: values.out ?? null,
      format,
      resamples,
      workers,
      isFresh: values.fresh ?? false,
    };
    return wrongWith(request) ?? request;
  } catch (error) {
    // parseArgs says which option it does not know.
    return error instanceof Error ? error.message : String(error);
  }
}

function wrongWith({ paths, outFolder, mappingPath, isJson }: Request): string | null {
  const [path, ...more] = paths;
  if (path === undefined) return 'No file was given.';
  if (outFolder !== null) return isJson ? 'With --out say --format json instead of --json.' : null;
  if (more.length > 0) {
    return `One file at a time, or --out FOLDER for many; also given: ${more.join(', ')}.`;
  }
  if (/\.csv(\.gz)?$/i.test(path) && mappingPath === null) {
    return `${path} is a CSV table and needs --mapping FILE.json.`;
  }
  return null;
}

function wholeNumber(text: string | undefined, usual: number, most: number): number | null {
  if (text === undefined) return usual;
  const value = Number(text);
  return Number.isInteger(value) && value >= 1 && value <= most ? value : null;
}

function programVersion(): string {
  const text = readFileSync(new URL('../../package.json', import.meta.url), 'utf8');
  return (JSON.parse(text) as { version: string }).version;
}
