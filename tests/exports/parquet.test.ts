import { parquetMetadata, parquetReadObjects } from 'hyparquet';
import { afterAll, describe, expect, it } from 'vitest';
import { csvChunks } from '../../src/core/exports/csv.ts';
import { parquetChunks } from '../../src/core/exports/parquet.ts';
import { SET_COLUMNS, setTable } from '../../src/core/exports/set-table.ts';
import { SWING_COLUMNS, swingTable } from '../../src/core/exports/swing-table.ts';
import {
  BATCH_ROWS,
  type Cell,
  type Column,
  cellsOf,
  type Table,
} from '../../src/core/exports/table.ts';
import { demoRows } from './demo-set.ts';
import { exportFolder, query } from './duckdb.ts';
import { AWKWARD, sampleKinds } from './tables-of-kinds.ts';

const folder = exportFolder();
afterAll(() => folder.remove());

/** Types of columns as DuckDB names them. */
const DUCK_TYPES = {
  text: 'VARCHAR',
  number: 'DOUBLE',
  integer: 'INTEGER',
  truth: 'BOOLEAN',
  time: 'TIMESTAMP WITH TIME ZONE',
};

function parquetFile(name: string, table: Table): { path: string; bytes: ArrayBuffer } {
  const bytes = Buffer.concat([...parquetChunks(table, 'test 1')]);
  return { path: folder.write(name, [bytes]), bytes: Uint8Array.from(bytes).buffer };
}

/** Cells as readers give them: times as dates. */
function asRead(columns: readonly Column[], cells: readonly Cell[]): Record<string, unknown> {
  return Object.fromEntries(
    columns.map(({ name, kind }, i) => {
      const cell = cells[i]!;
      return [name, kind === 'time' && cell !== null ? new Date(Number(cell)) : cell];
    }),
  );
}

describe('parquetChunks', () => {
  it('gives every kind of cell back to hyparquet and to DuckDB, nothing for what is not known', async () => {
    const rows = AWKWARD.slice(0, 4);
    const { path, bytes } = parquetFile('awkward.parquet', sampleKinds(rows));
    const expected = [...sampleKinds(rows).rows].map((cells) =>
      asRead(sampleKinds([]).columns, cells),
    );
    expect(await parquetReadObjects({ file: bytes })).toEqual(expected);
    expect(await query(`SELECT * FROM '${path}'`)).toEqual(expected);
  });

  it('writes NaN, infinity and an empty text as null, never as a value', async () => {
    const { path } = parquetFile('missing.parquet', sampleKinds(AWKWARD.slice(4)));
    expect(
      await query(`SELECT name IS NULL AS noName, length_m IS NULL AS noLength FROM '${path}'`),
    ).toEqual([
      { noName: true, noLength: true },
      { noName: false, noLength: true },
    ]);
  });

  it('says unit and meaning of every column in its metadata', async () => {
    const { path, bytes } = parquetFile('described.parquet', sampleKinds(AWKWARD));
    const { key_value_metadata: pairs, created_by } = parquetMetadata(bytes);
    expect(created_by).toBe('test 1');
    expect(pairs).toContainEqual({ key: 'table', value: 'kinds' });
    expect(pairs).toContainEqual({
      key: 'column/length_m',
      value: '{"unit":"m","meaning":"A number."}',
    });
    const [found] = await query(
      `SELECT decode(value) AS said FROM parquet_kv_metadata('${path}') WHERE decode(key) = 'column/place'`,
    );
    expect(found).toEqual({ said: '{"unit":null,"meaning":"A whole number."}' });
  });

  it('is a sound file without rows, and over several batches', async () => {
    const empty = parquetFile('empty.parquet', sampleKinds([])).path;
    expect(await query(`SELECT count(*)::INTEGER AS n FROM '${empty}'`)).toEqual([{ n: 0 }]);
    const many = Array.from({ length: 2 * BATCH_ROWS + 1 }, (_, i) => ({
      ...AWKWARD[0]!,
      integer: i,
    }));
    const { path } = parquetFile('many.parquet', sampleKinds(many));
    // Gauss: the numbers 0 .. n - 1 sum to n (n - 1)/2.
    const [sum] = await query(
      `SELECT count(*)::INTEGER AS n, sum(place)::DOUBLE AS sum FROM '${path}'`,
    );
    expect(sum).toEqual({ n: many.length, sum: (many.length * (many.length - 1)) / 2 });
  });
});

describe('tables of the demo sets', () => {
  const demos = [demoRows('full'), demoRows('short')];
  const swings = demos.flatMap((demo) => demo.swings);
  const sets = demos.flatMap((demo) => demo.sets);
  const swingFile = parquetFile('swing.parquet', swingTable(swings));
  const setFile = parquetFile('set.parquet', setTable(sets));

  it('read back from Parquet as they are, the same by both readers, with the types of their columns', async () => {
    for (const [file, columns, rows] of [
      [swingFile, SWING_COLUMNS, swings.map((row) => cellsOf(SWING_COLUMNS, row))],
      [setFile, SET_COLUMNS, sets.map((row) => cellsOf(SET_COLUMNS, row))],
    ] as const) {
      const expected = rows.map((cells) => asRead(columns, cells));
      expect(await parquetReadObjects({ file: file.bytes })).toEqual(expected);
      expect(await query(`SELECT * FROM '${file.path}'`)).toEqual(expected);
      const types = await query(`DESCRIBE SELECT * FROM '${file.path}'`);
      expect(types.map((row) => [row.column_name, row.column_type])).toEqual(
        columns.map(({ name, kind }) => [name, DUCK_TYPES[kind]]),
      );
    }
  });

  it('answer in SQL what can be counted by hand: mean reach and mean points per implement', async () => {
    const found = await query(
      `SELECT implement, count(*)::INTEGER AS n, avg(reach_m) AS reach, avg(points) AS points
       FROM '${swingFile.path}' WHERE counted GROUP BY implement ORDER BY implement`,
    );
    const byHand = demos
      .map(({ state, sets: [set] }) => {
        const sound = set!.view.swings.filter(
          ({ swing, discarded }) => swing.voidReason === null && !discarded,
        );
        const mean = (values: number[]) => values.reduce((a, b) => a + b, 0) / values.length;
        return {
          implement: state.description.implement,
          n: sound.length,
          reach: mean(sound.map(({ swing }) => swing.reachM)),
          points: mean(sound.map(({ points }) => points!)),
        };
      })
      .sort((a, b) => (a.implement < b.implement ? -1 : 1));
    expect(found).toHaveLength(2);
    found.forEach((row, i) => {
      const { reach, points, ...names } = byHand[i]!;
      expect(row).toMatchObject(names);
      // The order of summing may differ: some units in the last place.
      expect(row.reach).toBeCloseTo(reach, 12);
      expect(row.points).toBeCloseTo(points, 12);
    });
  });

  it('join: the set table says of each set what its swings say', async () => {
    const found = await query(
      `SELECT t.set_id, t.counted_swings, t.mean_reach_m, t.reach_spread_m, t.scored_swings,
              count(*) FILTER (counted)::INTEGER AS counted, avg(reach_m) FILTER (counted) AS mean,
              stddev_samp(reach_m) FILTER (counted) AS spread, count(points)::INTEGER AS scored
       FROM '${setFile.path}' t JOIN '${swingFile.path}' s USING (set_id) GROUP BY ALL`,
    );
    expect(found).toHaveLength(2);
    for (const row of found) {
      expect(row.counted_swings).toBe(row.counted);
      expect(row.scored_swings).toBe(row.scored);
      expect(row.mean_reach_m).toBeCloseTo(row.mean as number, 12);
      expect(row.reach_spread_m).toBeCloseTo(row.spread as number, 12);
    }
  });

  it('are the same in CSV as DuckDB reads it', async () => {
    for (const [name, table, file] of [
      ['swing.csv', swingTable(swings), swingFile],
      ['set.csv', setTable(sets), setFile],
    ] as const) {
      const path = folder.write(name, csvChunks(table));
      const fromCsv = `SELECT * FROM read_csv('${path}')`;
      const fromParquet = `SELECT * FROM '${file.path}'`;
      const [count] = await query(
        `SELECT (SELECT count(*) FROM (${fromCsv}))::INTEGER AS csv,
                (SELECT count(*) FROM (${fromParquet}))::INTEGER AS parquet`,
      );
      expect(count!.csv).toBe(count!.parquet);
      expect(await query(`${fromCsv} EXCEPT ${fromParquet}`)).toEqual([]);
      expect(await query(`${fromParquet} EXCEPT ${fromCsv}`)).toEqual([]);
    }
  });
});
