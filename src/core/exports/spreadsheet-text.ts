/**
 * Where a spreadsheet may see the beginning of a formula: at the start of a cell, and after anything it may take
 * for the border of one, since not every spreadsheet splits at the same character or minds quotes. Full-width
 * signs count as their plain ones in some.
 */
const FORMULA = /(^|[,;|\t\r\n"])(\s*)(?=[=+\-@\uFF1D\uFF0B\uFF0D\uFF20])/gu;

/** A leading tab or line break is dropped by some spreadsheets, and what follows is the start then. */
const LEADING_BREAK = /^(?=[\t\r\n])/u;

/**
 * Text that came from outside (pseudonym, name of a racket, note) made safe to open in a spreadsheet: an
 * apostrophe goes before what could begin a formula. Other text stays as it is.
 * Source: OWASP, "CSV Injection" (characters = + - @ tab CR LF, separators and quotes; full-width variants).
 * Checked: tests/exports/csv.test.ts
 */
export function spreadsheetText(text: string): string {
  return text.replace(LEADING_BREAK, "'").replace(FORMULA, "$1'$2");
}
