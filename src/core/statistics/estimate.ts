/**
 * How this folder answers.
 *
 * - A function that can be answered returns a plain number or a record of numbers; where there is
 *   sampling error the record is an {@link Estimate}. No number in an answer is ever NaN.
 * - A question the *data* cannot answer gets an {@link Unavailable}: which rule failed, in numbers,
 *   so that a screen can say "4 more swings" instead of a dash.
 * - A mistake of the *caller* (columns of different lengths, a confidence level of 95) throws a
 *   RangeError, since no amount of data would help.
 *
 * Missing values are left out by whoever has the data, row by row, before they come here: a NaN is
 * refused by name, never skipped.
 */
export interface Estimate {
  readonly value: number;
  /** Ends of the confidence interval. */
  readonly low: number;
  readonly high: number;
  /** Confidence level of the interval, e.g. 0.95. */
  readonly level: number;
  /** Observations that entered. */
  readonly n: number;
}

/** Why a question has no answer. */
export type Unavailable =
  /** `have` observations (in the smallest group, where there are groups) of at least `need`. */
  | { readonly reason: 'too-few'; readonly need: number; readonly have: number }
  /** NaN or infinity among the data, at this index of the column that has it. */
  | { readonly reason: 'not-finite'; readonly index: number }
  /** All values alike: nothing to compare with or to divide by. */
  | { readonly reason: 'no-spread' }
  /** One column follows from the others, so their effects cannot be told apart. */
  | { readonly reason: 'collinear' }
  /** Equal spread in every direction: no axis is the major one. */
  | { readonly reason: 'no-direction' }
  /** Two classes that do not overlap; `value` stands, but its uncertainty cannot be seen. */
  | { readonly reason: 'separated'; readonly value: number }
  /** The statistic had no value in `failed` of `of` resamples, too many to trust the rest. */
  | { readonly reason: 'unstable'; readonly failed: number; readonly of: number }
  /** Every resample lies on one side of the estimate: the interval cannot be placed around it. */
  | { readonly reason: 'one-sided' };

/** Confidence level where nothing else is asked for. */
export const CONFIDENCE = 0.95;

export function isUnavailable<T>(answer: T | Unavailable): answer is Unavailable {
  return typeof answer === 'object' && answer !== null && 'reason' in answer;
}

/**
 * First thing wrong with columns of data, or null.
 * @param need least number of rows @param columns of equal length
 * @throws RangeError when the lengths differ
 */
export function dataFault(need: number, ...columns: ArrayLike<number>[]): Unavailable | null {
  const n = columns[0]!.length;
  for (const column of columns) {
    if (column.length !== n)
      throw new RangeError(
        `Columns of ${n} and ${column.length} values: each row needs a value in every column`,
      );
    for (let index = 0; index < n; index++)
      if (!Number.isFinite(column[index])) return { reason: 'not-finite', index };
  }
  return n < need ? { reason: 'too-few', need, have: n } : null;
}

/**
 * First thing wrong with groups of data, or null.
 * @param need least number of values in each group @param groups may differ in size
 */
export function groupFault(need: number, groups: readonly ArrayLike<number>[]): Unavailable | null {
  let fault: Unavailable | null = null;
  for (const group of groups) {
    const own = dataFault(need, group);
    if (own?.reason === 'not-finite') return own;
    if (own?.reason === 'too-few' && (fault?.reason !== 'too-few' || own.have < fault.have))
      fault = own;
  }
  return fault;
}

/** @throws RangeError unless 0 < level < 1 */
export function checkLevel(level: number): void {
  if (!(level > 0 && level < 1))
    throw new RangeError(`Confidence level ${level}: give a share between 0 and 1, such as 0.95`);
}
