import { copyFileSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { availableParallelism, tmpdir } from 'node:os';
import { join } from 'node:path';
import { analyseMany } from '../../src/batch/analyse-many.ts';
import { recordingPaths } from '../../src/batch/recording-paths.ts';
import { readSet } from '../../src/core/recording/set-reader.ts';
import { textTable } from '../../src/reports/text-table.ts';
import { query } from '../exports/duckdb.ts';
import { setFile } from '../recording/sample-set.ts';

// What a batch over many files costs, and how it grows with files and processes; then a query over its rows. Sets are
// copies of a demo set under other names: 20 swings in two minutes each.
const DEMO = 'recorded-streams/player-a-short-racket.mcap';
const FEW = 8;
const MANY = 32;
/** The parts of the batch are copied so often for the query: thousands of sets. */
const COPIES = [1, 8, 64];

const demo = readSet(readFileSync(DEMO));
if (!demo.ok) throw new Error(demo.error.message);
const { description, records } = demo.set;
const folder = mkdtempSync(join(tmpdir(), 'bench-batch-'));

function inputs(count: number): string {
  const input = join(folder, `in-${count}`);
  mkdirSync(input);
  for (let i = 0; i < count; i++) {
    const setId = `set-${i}`;
    const bytes = setFile(records, { ...description, setId, player: `Player ${i % 12}` });
    writeFileSync(join(input, `${setId}.mcap`), bytes);
  }
  return input;
}

async function run(input: string, workers: number): Promise<number> {
  const files = recordingPaths([input], false);
  const outFolder = join(folder, 'out');
  const request = { mappingPath: null, outFolder, format: 'parquet', isFresh: true } as const;
  const startedMs = performance.now();
  await analyseMany({ ...request, files, workers, resamples: 2000, programVersion: 'bench' }, null);
  return (performance.now() - startedMs) / 1000;
}

async function askAll(copies: number): Promise<{ sets: number; ms: number }> {
  const sets = join(folder, `sets-${copies}`);
  const swings = join(folder, `swings-${copies}`);
  for (const [kind, to] of [
    ['sets', sets],
    ['swings', swings],
  ] as const) {
    mkdirSync(to);
    for (let i = 0; i < copies; i++) {
      copyFileSync(join(folder, 'out', kind, 'part-00001.parquet'), join(to, `${i}.parquet`));
    }
  }
  const startedMs = performance.now();
  await query(`select s.player, s.implement, count(*)::int n, avg(w.reach_m), stddev(w.reach_m)
    from '${sets}/*.parquet' s join '${swings}/*.parquet' w using (set_id) group by all`);
  const [row] = await query(`select count(*)::int n from '${sets}/*.parquet'`);
  return { sets: Number(row!.n), ms: performance.now() - startedMs };
}

try {
  const cores = availableParallelism();
  const few = inputs(FEW);
  const many = inputs(MANY);
  const fewS = await run(few, 1);
  const oneS = await run(many, 1);
  const allS = await run(many, cores);
  const rows = [
    [`${FEW} sets, one process`, fewS, FEW / fewS],
    [`${MANY} sets, one process`, oneS, MANY / oneS],
    [`${MANY} sets, ${cores} processes`, allS, MANY / allS],
  ] as const;
  console.log(
    textTable(
      ['batch', 'seconds', 'sets a second', 'ratio'],
      rows.map(([name, seconds, rate]) => [
        name,
        seconds.toFixed(1),
        rate.toFixed(2),
        (rate / rows[0][2]).toFixed(2),
      ]),
    ),
  );
  const asked: string[][] = [];
  for (const copies of COPIES) {
    const { sets, ms } = await askAll(copies);
    asked.push([String(sets), String(20 * sets), ms.toFixed(0)]);
  }
  console.log(`\n${textTable(['sets in Parquet', 'swings', 'query ms'], asked)}`);
} finally {
  rmSync(folder, { recursive: true });
}
