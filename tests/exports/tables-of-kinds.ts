import { columnsOver, tableOf } from '../../src/core/exports/table.ts';

/** A row with a cell of every kind. */
export interface Sample {
  readonly text: string | null;
  readonly number: number;
  readonly integer: number | null;
  readonly truth: boolean | null;
  readonly timeMs: number | null;
}

const { text, number, integer, truth, time } = columnsOver<Sample>();

const COLUMNS = [
  text('name', 'A text.', (row) => row.text),
  number('length_m', 'm', 'A number.', (row) => row.number),
  integer('place', 'A whole number.', (row) => row.integer),
  truth('kept', 'A truth value.', (row) => row.truth),
  time('at', 'A time.', (row) => row.timeMs),
];

/** A table of such rows. */
export function sampleKinds(rows: readonly Sample[]) {
  return tableOf('kinds', COLUMNS, rows);
}

/** Cells that writers get wrong most easily. */
export const AWKWARD: readonly Sample[] = [
  { text: 'Zoë 7 🏓', number: 0.1 + 0.2, integer: 0, truth: true, timeMs: 1_767_225_600_123 },
  { text: 'a "quoted", b\nc', number: -0, integer: -(2 ** 31), truth: false, timeMs: 0 },
  { text: ' ', number: 5e-324, integer: 2 ** 31 - 1, truth: null, timeMs: -1 },
  { text: null, number: Number.MAX_VALUE, integer: null, truth: true, timeMs: null },
  { text: '', number: Number.NaN, integer: 1, truth: true, timeMs: 8.64e15 },
  { text: 'NULL', number: Number.NEGATIVE_INFINITY, integer: 1, truth: true, timeMs: 1 },
];
