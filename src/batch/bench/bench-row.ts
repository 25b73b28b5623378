/** One line of the table of `npm run bench`. */
export interface BenchRow {
  readonly what: string;
  readonly value: number;
  readonly unit: string;
  /** Against what `to` names, measured in the same run; null where nothing is compared. */
  readonly ratio: number | null;
  readonly to: string;
  /** Of design.md section 13 or an issue; null without one. */
  readonly goal: { readonly text: string; readonly isMet: boolean } | null;
}
