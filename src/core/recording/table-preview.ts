import { dsvFormat } from 'd3-dsv';
import type { CsvMapping } from './csv-mapping.ts';
import { TableError } from './table-error.ts';
import { type ColumnNumbers, type ColumnProposal, proposeColumns } from './table-guess.ts';
import { type ColumnVector, findVectors } from './table-names.ts';

/** The beginning of a table, and what it may mean. */
export interface TablePreview {
  readonly delimiter: CsvMapping['delimiter'];
  readonly header: readonly string[];
  /** Cells of the first rows, long ones cut. */
  readonly rows: readonly (readonly string[])[];
  /** Columns named alike but for x, y, z: what can be a sensor's. */
  readonly vectors: readonly ColumnVector[];
  /** For either striking hand: tables may hold both arms. */
  readonly proposals: Readonly<Record<'left' | 'right', ColumnProposal>>;
}

/** Characters of a table that are looked at before it is read; its first line must be shorter. */
export const PREVIEW_CHARS = 2 ** 18;
const MOST_COLUMNS = 2000;
/** As long as a mapping allows. */
const LONGEST_NAME = 200;
const SHOWN_ROWS = 5;
const SHOWN_CHARS = 40;
const DELIMITERS = [',', ';', '\t'] as const;
/** Rows that decide between delimiters. */
const TRIED_LINES = 10;

/**
 * Looks at the beginning of a table.
 * @param text its first characters, about {@link PREVIEW_CHARS}, or all @param isWhole all of it is there
 * @param delimiter null: whichever gives the most columns of equal rows
 * @throws TableError when it is no table with one line of names
 * Checked: tests/recording/table-preview.test.ts
 */
export function previewTable(
  text: string,
  isWhole: boolean,
  delimiter: CsvMapping['delimiter'] | null = null,
): TablePreview {
  const lines = wholeLines(text, isWhole);
  const used = delimiter ?? likeliestDelimiter(lines);
  const [first, ...rows] = dsvFormat(used).parseRows(lines);
  const header = checkedHeader(first ?? []);
  const vectors = findVectors(header);
  const numbers = numbersOf(header, rows);
  return {
    delimiter: used,
    header,
    rows: rows
      .slice(0, SHOWN_ROWS)
      .map((cells) => cells.slice(0, header.length).map((cell) => cell.slice(0, SHOWN_CHARS))),
    vectors,
    proposals: {
      left: withDecimals(rows, proposeColumns(vectors, numbers, 'left')),
      right: withDecimals(rows, proposeColumns(vectors, numbers, 'right')),
    },
  };
}

/** Without a last line that may be cut. */
function wholeLines(text: string, isWhole: boolean): string {
  if (text.trim() === '') throw new TableError('The file is empty. Choose another.');
  if (isWhole) return text;
  const end = text.lastIndexOf('\n');
  if (end < 0) {
    throw new TableError(
      `The first line is longer than ${PREVIEW_CHARS / 1024} thousand characters: this is no table with a line of names and a line for each instant.`,
    );
  }
  return text.slice(0, end + 1);
}

function likeliestDelimiter(lines: string): CsvMapping['delimiter'] {
  const end = placeOfLine(lines, TRIED_LINES);
  const fits = DELIMITERS.map((delimiter) => {
    const [first, ...rows] = dsvFormat(delimiter).parseRows(lines.slice(0, end));
    const width = first?.length ?? 0;
    // A blank line has one cell.
    const isEven = width > 1 && rows.every(({ length }) => length === width || length === 1);
    // Where no delimiter makes rows equal, the most names decide.
    return isEven ? width * MOST_COLUMNS : width;
  });
  return DELIMITERS[fits.indexOf(Math.max(...fits))]!;
}

/** Where line number `count` (from 0) begins, or the end of the text. */
function placeOfLine(lines: string, count: number): number {
  let place = 0;
  for (let line = 0; line < count; line++) {
    const end = lines.indexOf('\n', place);
    if (end < 0) return lines.length;
    place = end + 1;
  }
  return place;
}

function checkedHeader(cells: readonly string[]): readonly string[] {
  // As csv-columns.ts reads them.
  const header = cells.map((name) => name.replace(/^\ufeff/, '').trim());
  if (header.length < 2) {
    throw new TableError(
      'The first line has one column only. Commas, semicolons or tabs must stand between columns, and the first line must name them.',
    );
  }
  if (header.length > MOST_COLUMNS) {
    throw new TableError(
      `The table has ${header.length} columns; at most ${MOST_COLUMNS} are read. Save it with the columns of the three sensors only.`,
    );
  }
  if (header.some((name) => name.length > LONGEST_NAME)) {
    throw new TableError(
      `A column's name is longer than ${LONGEST_NAME} characters. The first line must hold the names of the columns and nothing else.`,
    );
  }
  if (header.every((name) => name === '' || !Number.isNaN(Number(name)))) {
    throw new TableError(
      'The first line holds numbers. Put a line with the names of the columns before it, or take away lines above the names.',
    );
  }
  return header;
}

/** The first column of a name counts, as when the table is read. */
function numbersOf(header: readonly string[], rows: readonly (readonly string[])[]): ColumnNumbers {
  const filled = rows.filter((cells) => cells.length === header.length);
  const numbers = new Map<string, Float64Array>();
  header.forEach((name, column) => {
    if (numbers.has(name)) return;
    numbers.set(
      name,
      Float64Array.from(filled, (cells) => numberOf(cells[column]!)),
    );
  });
  return numbers;
}

function numberOf(cell: string): number {
  return cell.trim() === '' ? Number.NaN : Number(cell);
}

/** Tables of languages with a decimal comma cannot be read, and that is better said at once. */
function withDecimals(
  rows: readonly (readonly string[])[],
  proposal: ColumnProposal,
): ColumnProposal {
  const hasCommas = rows.some((cells) => cells.some((cell) => /^\s*-?\d+,\d+\s*$/.test(cell)));
  if (!hasCommas) return proposal;
  const doubt = 'Numbers are written with a decimal comma. Save the table with decimal points.';
  return { ...proposal, doubts: [doubt, ...proposal.doubts] };
}
