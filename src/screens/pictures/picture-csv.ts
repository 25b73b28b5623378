import type { PictureTable } from './picture-spec.ts';

/** A cell with one of these is put between quotes. */
const SPECIAL = /[",\r\n]/;

/**
 * The numbers of a picture as comma-separated values, all decimals, CRLF after each line; nothing between the commas
 * where a value is not known. Texts are the program's own.
 * Source: RFC 4180.  Checked: tests/screens/picture-csv.test.ts
 */
export function pictureCsv({ columns, rows }: PictureTable): string {
  const lines = [columns.map(({ name }) => name), ...rows];
  return lines.map((cells) => `${cells.map(cellText).join(',')}\r\n`).join('');
}

function cellText(cell: string | number | null): string {
  if (cell === null || (typeof cell === 'number' && !Number.isFinite(cell))) return '';
  const text = String(cell);
  return SPECIAL.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
}
