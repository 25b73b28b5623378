/** What the cells of a column are. A time is an instant of the wall clock, milliseconds since 1970 UTC. */
export type ColumnKind = 'text' | 'number' | 'integer' | 'truth' | 'time';

/** Text for 'text', true or false for 'truth', else a number; null: not known. Never NaN, never an empty text. */
export type Cell = string | number | boolean | null;

/** What a reader of an exported table has to know of one column. */
export interface Column {
  /** Lower case with underscores; the unit at its end, as in `reach_m`. */
  readonly name: string;
  readonly kind: ColumnKind;
  /** SI, as in `rad/s`; null where there is none. */
  readonly unit: string | null;
  /** One sentence; it says what null means where that is not plain. */
  readonly meaning: string;
}

/** A column and how its cell is found: the one place where both are said. */
export interface ColumnOf<Row> extends Column {
  /** NaN, infinity and an empty text mean "not known", as everywhere in the program. */
  readonly of: (row: Row) => Cell;
}

/** A table to be written; its rows may be read once only, and are never all in memory if they need not be. */
export interface Table {
  /** What one row is: `swing`, `set`, `instant`, `sample`, `column`. */
  readonly name: string;
  readonly columns: readonly Column[];
  /** One cell per column. */
  readonly rows: Iterable<readonly Cell[]>;
}

/** Rows that writers take at a time: what they keep in memory. */
export const BATCH_ROWS = 16_384;

/** Ways to define a column over some kind of row. */
export function columnsOver<Row>() {
  return {
    text: (name: string, meaning: string, of: (row: Row) => string | null): ColumnOf<Row> => ({
      name,
      kind: 'text',
      unit: null,
      meaning,
      of,
    }),
    number: (
      name: string,
      unit: string | null,
      meaning: string,
      of: (row: Row) => number | null,
    ): ColumnOf<Row> => ({ name, kind: 'number', unit, meaning, of }),
    integer: (name: string, meaning: string, of: (row: Row) => number | null): ColumnOf<Row> => ({
      name,
      kind: 'integer',
      unit: null,
      meaning,
      of,
    }),
    truth: (name: string, meaning: string, of: (row: Row) => boolean | null): ColumnOf<Row> => ({
      name,
      kind: 'truth',
      unit: null,
      meaning,
      of,
    }),
    time: (name: string, meaning: string, of: (row: Row) => number | null): ColumnOf<Row> => ({
      name,
      kind: 'time',
      unit: null,
      meaning,
      of,
    }),
  };
}

/**
 * One row as its cells.
 * @throws RangeError when an integer column gets a fraction, or more than 32 bits hold: a mistake in the program
 */
export function cellsOf<Row>(columns: readonly ColumnOf<Row>[], row: Row): Cell[] {
  return columns.map((column) => {
    const cell = column.of(row);
    if (cell === '' || (typeof cell === 'number' && !Number.isFinite(cell))) return null;
    if (column.kind === 'integer' && cell !== null && cell !== Number(cell) >> 0) {
      throw new RangeError(`column ${column.name} holds whole numbers of 32 bits, got ${cell}`);
    }
    return cell;
  });
}

/** A table of things, each made into its cells when a writer asks for it. */
export function tableOf<Row>(
  name: string,
  columns: readonly ColumnOf<Row>[],
  rows: Iterable<Row>,
): Table {
  return { name, columns, rows: cellRows(columns, rows) };
}

function* cellRows<Row>(columns: readonly ColumnOf<Row>[], rows: Iterable<Row>) {
  for (const row of rows) yield cellsOf(columns, row);
}

/** Rows in groups of at most {@link BATCH_ROWS}. */
export function* batchesOf(
  rows: Iterable<readonly Cell[]>,
): Generator<readonly (readonly Cell[])[], void, void> {
  let batch: (readonly Cell[])[] = [];
  for (const row of rows) {
    batch.push(row);
    if (batch.length === BATCH_ROWS) {
      yield batch;
      batch = [];
    }
  }
  if (batch.length > 0) yield batch;
}

const { text } = columnsOver<{ readonly table: string; readonly column: Column }>();

const LISTED = [
  text('table', 'Table the column belongs to.', ({ table }) => table),
  text('name', 'Name of the column.', ({ column }) => column.name),
  text('kind', 'text, number, integer, truth or time.', ({ column }) => column.kind),
  text('unit', 'Unit of its numbers; null where there is none.', ({ column }) => column.unit),
  text('meaning', 'What its cells mean.', ({ column }) => column.meaning),
];

/** What the columns of some tables mean, as a table: goes beside files that cannot say it themselves. */
export function columnList(tables: readonly Pick<Table, 'name' | 'columns'>[]): Table {
  const rows = tables.flatMap(({ name, columns }) =>
    columns.map((column) => ({ table: name, column })),
  );
  return tableOf('column', LISTED, rows);
}
