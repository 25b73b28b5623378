import { spawnSync } from 'node:child_process';
import {
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  utimesSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { gzipSync } from 'node:zlib';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { analyseCommand } from '../../src/batch/analyse-command.ts';
import { createPipeline, stepPipeline } from '../../src/core/pipeline/pipeline.ts';
import { reviewPipeline } from '../../src/core/pipeline/review.ts';
import type { SetDescription } from '../../src/core/recording/set-description.ts';
import { query } from '../exports/duckdb.ts';
import { simulatedSet } from '../pipeline/simulated-set.ts';
import { setFile } from '../recording/sample-set.ts';

const repository = fileURLToPath(new URL('../..', import.meta.url));
const folder = mkdtempSync(join(tmpdir(), 'analyse-many-'));
const input = join(folder, 'in');
const output = join(folder, 'out');
afterAll(() => rmSync(folder, { recursive: true }));

const { session, records } = simulatedSet({ swings: 3 });

function saveSet(name: string, change: Partial<SetDescription>): void {
  const bytes = setFile(records, { ...session.description, ...change });
  writeFileSync(join(input, name), name.endsWith('.gz') ? gzipSync(bytes) : bytes);
}

/** As npm runs it. */
function run(...args: string[]) {
  const command = ['--import', 'tsx', 'src/batch/analyse.ts', ...args, '--resamples', '50'];
  return spawnSync(process.execPath, command, { cwd: repository, encoding: 'utf8' });
}

/** With one process for all files: the first run here has one for each core. */
const runAlone = (...args: string[]) => run(...args, '--workers', '1');

/** Exit code and messages, without a process of its own. */
async function asked(...args: string[]): Promise<[number, string]> {
  let messages = '';
  const error = (line: string) => {
    messages += line;
  };
  return [await analyseCommand(args, { out: () => {}, error }), messages];
}

beforeAll(() => {
  mkdirSync(join(input, 'deeper'), { recursive: true });
  saveSet('a.mcap', { setId: 'a', player: '=cmd|A' });
  saveSet('deeper/b.mcap.gz', { setId: 'b', player: 'Player B', implement: 'short racket' });
  const whole = setFile(records, { ...session.description, setId: 'c' });
  writeFileSync(join(input, 'cut.mcap'), whole.subarray(0, whole.length - 2000));
  writeFileSync(join(input, 'bad.mcap'), 'no set');
  writeFileSync(join(input, 'notes.txt'), 'not looked at');
});

/** As the pipeline reads the set without any file between. */
const reviewed = (() => {
  const state = createPipeline(session.description);
  for (const record of records) stepPipeline(state, record);
  return reviewPipeline(state).swings.map(({ swing }) => swing.reachM);
})();

/** Rows as lists of their values. */
const rowsOf = async (sql: string) => (await query(sql)).map((row) => Object.values(row));
const parquet = (kind: 'sets' | 'swings') => `'${join(output, kind)}/*.parquet'`;

describe('analysing a folder', { timeout: 120_000 }, () => {
  it('gives a row per swing and per set, passes over what is bad, and says so', async () => {
    const result = run(input, '--out', output);
    expect(result.status).toBe(1);
    expect(result.stdout).toContain('4 files analysed; 1 could not be used');
    expect(result.stderr).toMatch(/bad\.mcap: This is not a set file/);
    expect(result.stderr).toMatch(/cut\.mcap: The file was cut off/);
    const sets = await rowsOf(
      `select set_id, player, swings, file_complete from ${parquet('sets')} order by set_id`,
    );
    expect(sets).toEqual([
      ['a', '=cmd|A', 3, true],
      ['b', 'Player B', 3, true],
      ['c', session.description.player, 3, false],
    ]);
    const reach = await rowsOf(
      `select reach_m from ${parquet('swings')} where set_id = 'b' order by swing`,
    );
    expect(reach.map(([m]) => m)).toEqual(reviewed);
  });

  it('started again, reads nothing twice', async () => {
    const again = runAlone(input, '--out', output);
    expect(again.stdout).toContain('0 files analysed, 4 analysed before; 1 could not be used');
    expect(again.status).toBe(1);
    expect(await rowsOf(`select count(*)::int from ${parquet('swings')}`)).toEqual([[9]]);
  });

  it('goes on behind what an interrupted run had done', async () => {
    // the power went while the line was written, so that a part stands that no whole line speaks of
    const done = join(output, 'done.jsonl');
    const [line = ''] = readFileSync(done, 'utf8').split('\n');
    rmSync(join(output, 'sets'), { recursive: true });
    rmSync(join(output, 'swings'), { recursive: true });
    mkdirSync(join(output, 'sets'));
    writeFileSync(join(output, 'sets', 'part-00001.parquet'), 'half');
    writeFileSync(done, line.slice(0, line.indexOf('}') + 2));
    const result = runAlone(input, '--out', output);
    expect(result.stdout).toContain('4 files analysed; 1 could not be used');
    expect(await rowsOf(`select count(*)::int from ${parquet('sets')}`)).toEqual([[3]]);
    // nor did what was half written swallow the line of the file that came next
    const again = runAlone(input, '--out', output);
    expect(again.stdout).toContain('0 files analysed, 4 analysed before; 1 could not be used');
  });

  it('does not mix rows of an older state of a file, or made otherwise, with new ones', () => {
    const other = runAlone(input, '--out', output, '--format', 'csv');
    expect(other.status).toBe(1);
    expect(other.stderr).toMatch(/made with other settings.*--fresh/);
    utimesSync(join(input, 'a.mcap'), 1, 1);
    const touched = runAlone(input, '--out', output);
    expect(touched.stderr).toMatch(/a\.mcap in .* are of an earlier state/);
  });

  it('writes CSV and JSON with the same rows', async () => {
    expect(runAlone(input, '--out', output, '--format', 'csv', '--fresh').status).toBe(1);
    const csv = join(output, 'swings', 'part-00001.csv');
    const rows = await rowsOf(`select count(*)::int, sum(reach_m) from read_csv('${csv}')`);
    expect(runAlone(input, '--out', output, '--format', 'json', '--fresh').status).toBe(1);
    expect(readdirSync(join(output, 'swings'))).toEqual(['part-00001.jsonl']);
    const json = readFileSync(join(output, 'swings', 'part-00001.jsonl'), 'utf8')
      .trimEnd()
      .split('\n')
      .map((line) => JSON.parse(line) as { reach_m: number });
    expect(rows[0]![0]).toBe(json.length);
    expect(rows[0]![1]).toBeCloseTo(
      json.reduce((sum, row) => sum + row.reach_m, 0),
      9,
    );
    expect(readFileSync(join(output, 'columns.csv'), 'utf8')).toMatch(/swing,reach_m,number,m,/);
  });

  it('says what is wrong with the question', async () => {
    expect(await asked(input, '--out', output, '--format', 'xlsx')).toEqual([
      2,
      expect.stringContaining('--format must be one of'),
    ]);
    expect(await asked(input, '--out', output, '--workers', '0')).toEqual([
      2,
      expect.stringContaining('--workers must be'),
    ]);
    expect(await asked(join(folder, 'nowhere'), '--out', output)).toEqual([
      1,
      expect.stringContaining('does not exist'),
    ]);
    const empty = join(folder, 'empty');
    mkdirSync(empty);
    expect(await asked(empty, '--out', output)).toEqual([
      1,
      expect.stringContaining('There is no set file'),
    ]);
  });
});
