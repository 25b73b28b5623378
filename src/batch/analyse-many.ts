import { Presets, SingleBar } from 'cli-progress';
import { type BatchFormat, BatchOutput } from './batch-output.ts';
import type { BatchAnswer, BatchItem } from './batch-process.ts';
import { mapInProcesses } from './processes.ts';
import type { RecordingPath } from './recording-paths.ts';

/** A run over many files. */
export interface BatchRequest {
  readonly files: readonly RecordingPath[];
  readonly mappingPath: string | null;
  readonly outFolder: string;
  readonly format: BatchFormat;
  readonly resamples: number;
  readonly workers: number;
  readonly isFresh: boolean;
  readonly programVersion: string;
}

/** What a run came to. */
export interface BatchResult {
  /** Analysed now, and found analysed by an earlier run. */
  readonly analysed: number;
  readonly known: number;
  /** Bad files of this run and earlier ones, in the order of their names. */
  readonly problems: readonly string[];
  /** Files that could be read but are not whole. */
  readonly warnings: readonly string[];
}

const BAR = '{bar} {value} of {total} files, {bad} bad, {eta_formatted} left';

/**
 * Analyses many files in several processes; a bad one is noted and passed over. What an earlier run into the same
 * folder has done is not done again, so that a run that was stopped goes on when started again.
 * @param terminal shows the progress; null: silent
 * @throws StaleOutputError when the folder holds other rows of one of the files
 */
export async function analyseMany(
  request: BatchRequest,
  terminal: NodeJS.WriteStream | null,
): Promise<BatchResult> {
  const { files, mappingPath, outFolder, format, resamples, workers, programVersion } = request;
  const output = new BatchOutput(outFolder, { format, programVersion, resamples }, request.isFresh);
  const problems: string[] = [];
  const warnings: string[] = [];
  const wanted = files.filter((file) => {
    const known = output.known(file);
    if (known !== null && known.problem !== null) problems.push(known.problem);
    return known === null;
  });
  const bar = progressBar(terminal, wanted.length);
  const items = wanted.map(({ path }) => ({ path, mappingPath, programVersion, resamples }));
  const script = new URL('./batch-process.ts', import.meta.url);
  const take = (answer: BatchAnswer, index: number): void => {
    if (answer.ok) {
      output.add(wanted[index]!, answer.swings, answer.sets);
      if (answer.warning !== null) warnings.push(answer.warning);
    } else {
      output.refuse(wanted[index]!, answer.problem);
      problems.push(answer.problem);
    }
    bar?.increment({ bad: problems.length });
  };
  try {
    await mapInProcesses<BatchItem, BatchAnswer>(script, items, take, workers);
  } finally {
    // what is done stays done, whatever stopped the rest
    output.flush();
    bar?.stop();
  }
  return {
    analysed: wanted.length,
    known: files.length - wanted.length,
    problems: problems.sort(),
    warnings: warnings.sort(),
  };
}

function progressBar(terminal: NodeJS.WriteStream | null, total: number): SingleBar | null {
  if (terminal === null || total === 0) return null;
  const bar = new SingleBar({ format: BAR, stream: terminal, etaBuffer: 50 }, Presets.rect);
  bar.start(total, 0, { bad: 0 });
  return bar;
}
