import { TableError } from './table-error.ts';
import { PREVIEW_CHARS } from './table-preview.ts';

/** Longest table, in characters: a text of more cannot be held by every browser. */
const MOST_TABLE_CHARS = 400e6;
const LINE_END = /[\r\n]/g;

/**
 * Puts the text of a table together from pieces, and stops as soon as it cannot be one, so that no file fills the
 * memory: binary, without line ends, or too long.
 * Checked: tests/recording/table-preview.test.ts
 */
export class TableText {
  readonly #parts: string[] = [];
  #chars = 0;
  #lineChars = 0;
  #lines = 0;

  /**
   * The next piece.
   * @throws TableError when what has come so far is no table that can be read
   */
  take(piece: string): void {
    if (piece.includes('\0')) {
      throw new TableError('This is no text but a binary file. Save the table as CSV (UTF-8).');
    }
    this.#chars += piece.length;
    if (this.#chars > MOST_TABLE_CHARS) {
      throw new TableError(
        `The table is larger than ${MOST_TABLE_CHARS / 1e6} MB. Save it in parts, or with the columns of the three sensors only.`,
      );
    }
    let from = 0;
    for (const { index } of piece.matchAll(LINE_END)) {
      this.#checkLine(index - from);
      if (this.#lineChars + index - from > 0) this.#lines++;
      this.#lineChars = 0;
      from = index + 1;
    }
    this.#lineChars += piece.length - from;
    this.#checkLine(0);
    this.#parts.push(piece);
  }

  /** All of it. */
  text(): string {
    return this.#parts.join('');
  }

  /** Lines so far that are not empty. */
  get lines(): number {
    return this.#lines + (this.#lineChars > 0 ? 1 : 0);
  }

  #checkLine(more: number): void {
    if (this.#lineChars + more <= PREVIEW_CHARS) return;
    throw new TableError(
      `Line ${this.#lines + 1} is longer than ${PREVIEW_CHARS / 1024} thousand characters: no line of a table of three sensors is.`,
    );
  }
}
