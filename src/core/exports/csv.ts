import { csvFormatRow } from 'd3-dsv';
import { spreadsheetText } from './spreadsheet-text.ts';
import { batchesOf, type Cell, type ColumnKind, type Table } from './table.ts';

/**
 * A table as comma-separated values, UTF-8 without byte order mark: one line of names, CRLF after each line, decimal
 * points, `true` and `false`, times as `2026-01-31T09:30:00.000Z`, nothing between the commas where the value is not
 * known. Numbers are the shortest that read back to the same 64 bits. Text cannot start a formula.
 * @returns pieces that follow each other; together they are the file
 * Source: RFC 4180; text: {@link spreadsheetText}.  Checked: tests/exports/csv.test.ts, read back by DuckDB
 */
export function* csvChunks(table: Table): Generator<string, void, void> {
  const kinds = table.columns.map(({ kind }) => kind);
  yield line(table.columns.map(({ name }) => name));
  for (const rows of batchesOf(table.rows)) {
    yield rows.map((row) => line(row.map((cell, i) => cellText(cell, kinds[i]!)))).join('');
  }
}

function line(cells: string[]): string {
  return `${csvFormatRow(cells)}\r\n`;
}

function cellText(cell: Cell, kind: ColumnKind): string {
  if (cell === null) return '';
  if (typeof cell === 'string') return spreadsheetText(cell);
  return kind === 'time' ? new Date(Number(cell)).toISOString() : String(cell);
}
