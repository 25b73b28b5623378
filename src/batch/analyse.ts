import { readFileSync } from 'node:fs';
import { parseArgs } from 'node:util';
import { createPipeline, stepPipeline } from '../core/pipeline/pipeline.ts';
import { reviewPipeline } from '../core/pipeline/review.ts';
import { setText } from '../reports/set-text.ts';
import { RecordingFileError, readRecording } from './read-recording.ts';
import { setJson } from './set-json.ts';

const USAGE = `Usage: npm run analyse -- FILE [--json] [--mapping FILE.json]

  FILE        a set file (.mcap), or a CSV table with --mapping; .gz is accepted
  --mapping   JSON that says which columns of the table are which sensor
              (see recorded-streams/FORMAT.md and src/core/recording/csv-mapping.ts)
  --json      print results as JSON instead of a report`;

const EXIT_FILE = 1;
const EXIT_USAGE = 2;

interface Request {
  readonly path: string;
  readonly mappingPath: string | null;
  readonly isJson: boolean;
}

function main(args: readonly string[]): number {
  const request = readRequest(args);
  if (typeof request === 'string') {
    console.error(`${request}\n\n${USAGE}`);
    return EXIT_USAGE;
  }
  try {
    const recording = readRecording(request.path, request.mappingPath, programVersion());
    const state = createPipeline(recording.description);
    for (const record of recording.records) stepPipeline(state, record);
    const print = request.isJson ? setJson : setText;
    if (recording.warning !== null) console.error(recording.warning);
    process.stdout.write(print(reviewPipeline(state), recording.description));
    return 0;
  } catch (error) {
    if (!(error instanceof RecordingFileError)) throw error;
    console.error(error.message);
    return EXIT_FILE;
  }
}

/** What was asked, or what is wrong with the question. */
function readRequest(args: readonly string[]): Request | string {
  try {
    const { values, positionals } = parseArgs({
      args: [...args],
      allowPositionals: true,
      options: { json: { type: 'boolean' }, mapping: { type: 'string' } },
    });
    const [path, ...more] = positionals;
    if (path === undefined) return 'No file was given.';
    if (more.length > 0) return `One file at a time, please; also given: ${more.join(', ')}.`;
    if (/\.csv(\.gz)?$/i.test(path) && values.mapping === undefined) {
      return `${path} is a CSV table and needs --mapping FILE.json.`;
    }
    return { path, mappingPath: values.mapping ?? null, isJson: values.json ?? false };
  } catch (error) {
    // parseArgs says which option it does not know.
    return error instanceof Error ? error.message : String(error);
  }
}

function programVersion(): string {
  const text = readFileSync(new URL('../../package.json', import.meta.url), 'utf8');
  return (JSON.parse(text) as { version: string }).version;
}

// A reader that has seen enough (`| head`) is no error.
process.stdout.on('error', (error: NodeJS.ErrnoException) => {
  if (error.code !== 'EPIPE') throw error;
});
process.exitCode = main(process.argv.slice(2));
