import { setRows } from '../core/exports/set-row.ts';
import { SET_COLUMNS } from '../core/exports/set-table.ts';
import { swingRows } from '../core/exports/swing-row.ts';
import { SWING_COLUMNS } from '../core/exports/swing-table.ts';
import { type Cell, cellsOf } from '../core/exports/table.ts';
import { createPipeline, stepPipeline } from '../core/pipeline/pipeline.ts';
import { answerItems } from './processes.ts';
import { RecordingFileError, readRecording } from './read-recording.ts';

/** One file to be analysed. */
export interface BatchItem {
  readonly path: string;
  readonly mappingPath: string | null;
  readonly programVersion: string;
  readonly resamples: number;
}

/** What a file came to: the cells of its rows, or why there are none. */
export type BatchAnswer =
  | {
      readonly ok: true;
      readonly swings: readonly (readonly Cell[])[];
      readonly sets: readonly (readonly Cell[])[];
      /** What is wrong with the file although it could be read; null when nothing is. */
      readonly warning: string | null;
    }
  | { readonly ok: false; readonly problem: string };

/** The same set gives the same intervals every time. */
const SEED = 1;

/** Reads one recording and makes its rows; a file that cannot be used is an answer, not an end. */
export function analyseFile(item: BatchItem): BatchAnswer {
  const { path, mappingPath, programVersion, resamples } = item;
  try {
    const recording = readRecording(path, mappingPath, programVersion);
    const state = createPipeline(recording.description);
    for (const record of recording.records) stepPipeline(state, record);
    const rows = setRows(state, recording.file, { seed: SEED, resamples });
    return {
      ok: true,
      swings: swingRows(state).map((row) => cellsOf(SWING_COLUMNS, row)),
      sets: rows.map((row) => cellsOf(SET_COLUMNS, row)),
      warning: recording.warning,
    };
  } catch (error) {
    if (error instanceof RecordingFileError) return { ok: false, problem: error.message };
    const what = error instanceof Error ? (error.stack ?? error.message) : String(error);
    return { ok: false, problem: `${path}: the program failed on it, please report this. ${what}` };
  }
}

if (process.send !== undefined) answerItems(analyseFile);
