import { createPipeline, type PipelineState, stepPipeline } from '../pipeline/pipeline.ts';
import { reviewPipeline } from '../pipeline/review.ts';
import type { StoredSet } from '../recording/set-reader.ts';
import { csvChunks } from './csv.ts';
import { instantTable } from './instant-table.ts';
import { motionBids } from './motion-bids.ts';
import { parquetChunks } from './parquet.ts';
import { setRows } from './set-row.ts';
import { setTable } from './set-table.ts';
import { swingRows } from './swing-row.ts';
import { swingTable } from './swing-table.ts';
import type { Table } from './table.ts';

/** What can be taken out of one set, beside its file. */
export const SET_EXPORTS = [
  'swings-csv',
  'swings-parquet',
  'measures-csv',
  'time-series-csv',
  'time-series-parquet',
  'motion-bids',
] as const;
export type SetExport = (typeof SET_EXPORTS)[number];

/** One file of an export, in pieces that follow each other; `/` between the folders of its path. */
export interface ExportedFile {
  readonly path: string;
  readonly parts: Iterable<string | Uint8Array<ArrayBuffer>>;
}

/** The same set gives the same intervals every time. */
const SEED = 1;

/**
 * The files of one export of a set, read with hindsight where swings are in them; made while they are taken.
 * @param programVersion of this program, for files that name their maker
 * Checked: tests/exports/set-export.test.ts
 */
export function* exportSet(
  set: StoredSet,
  kind: SetExport,
  programVersion: string,
): Generator<ExportedFile, void, void> {
  const { setId } = set.description;
  const csv = (table: Table): ExportedFile => ({
    path: `${setId}-${kind.replace('-csv', '')}.csv`,
    parts: csvChunks(table),
  });
  const parquet = (table: Table): ExportedFile => ({
    path: `${setId}-${kind.replace('-parquet', '')}.parquet`,
    parts: parquetChunks(table, `reach-funnel ${programVersion}`),
  });
  switch (kind) {
    case 'swings-csv':
      yield csv(swingTable(swingRows(finished(set))));
      break;
    case 'swings-parquet':
      yield parquet(swingTable(swingRows(finished(set))));
      break;
    case 'measures-csv':
      yield csv(setTable(setRows(finished(set), set, { seed: SEED })));
      break;
    case 'time-series-csv':
      yield csv(instantTable(createPipeline(set.description), set.records));
      break;
    case 'time-series-parquet':
      yield parquet(instantTable(createPipeline(set.description), set.records));
      break;
    case 'motion-bids':
      yield* motionBids([{ ...set, view: reviewPipeline(finished(set)) }], {
        name: `Set ${setId}`,
        license: 'n/a',
        programVersion,
      });
  }
}

function finished({ description, records }: StoredSet): PipelineState {
  const state = createPipeline(description);
  for (const record of records) stepPipeline(state, record);
  return state;
}
