import { spreadsheetText } from './spreadsheet-text.ts';
import type { Cell } from './table.ts';

/** Characters that would end a cell or a line, and others that have no place in a name. */
// biome-ignore lint/suspicious/noControlCharactersInRegex: these are what is meant
const CONTROL = /[\u0000-\u001f\u007f]+/gu;

/**
 * A cell of a BIDS table: tabs and line breaks of text become blanks, what is not known is `n/a`, and text cannot
 * start a formula in a spreadsheet.
 * Source: BIDS specification, "Tabular files".
 */
function tsvCell(cell: Cell): string {
  if (typeof cell === 'string') return spreadsheetText(cell.replace(CONTROL, ' ').trim()) || 'n/a';
  return cell === null || (typeof cell === 'number' && !Number.isFinite(cell))
    ? 'n/a'
    : String(cell);
}

/** One line of a BIDS table, with its line break. */
export function tsvLine(cells: readonly Cell[]): string {
  return `${cells.map(tsvCell).join('\t')}\n`;
}

/** A column of a BIDS table: its cells, and what its JSON file says of it. */
export interface TsvColumn<Row> {
  readonly name: string;
  readonly Description: string;
  readonly Units?: string;
  /** What its words mean, in words or as an object of the standard. */
  readonly Levels?: Readonly<Record<string, unknown>>;
  readonly of: (row: Row) => Cell;
}

/** A BIDS table with its line of names. */
export function tsvText<Row>(columns: readonly TsvColumn<Row>[], rows: readonly Row[]): string {
  const lines = rows.map((row) => tsvLine(columns.map(({ of }) => of(row))));
  return tsvLine(columns.map(({ name }) => name)) + lines.join('');
}

/** The JSON file beside a BIDS table. */
export function columnsJson<Row>(columns: readonly TsvColumn<Row>[]): string {
  return jsonText(Object.fromEntries(columns.map(({ name, of: _, ...said }) => [name, said])));
}

/** JSON as people read it. */
export function jsonText(value: unknown): string {
  return `${JSON.stringify(value, null, 2)}\n`;
}
