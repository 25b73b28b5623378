import { seededRandom } from '../maths/random.ts';
import type { Unavailable } from './estimate.ts';

/**
 * A number computed from rows of a data set, one array of row numbers per group, repeats allowed;
 * with one group simply `(rows) => number`. Row numbers run through all groups: the second
 * group's start where the first one's end, so one statistic serves interval and permutation test.
 * The arrays are used again for the next resample: read them, do not keep them.
 * An Unavailable (or NaN) says that these rows give no value.
 */
export type RowStatistic = (...groups: Int32Array[]) => number | Unavailable;

/** Values of a statistic over resamples. */
export interface Resampled {
  /** Those found, in the order drawn. */
  readonly values: Float64Array;
  /** Resamples without value. */
  readonly failed: number;
}

/** Rows of a column, in the order asked for. */
export function takeRows(column: ArrayLike<number>, rows: Int32Array): Float64Array {
  const taken = new Float64Array(rows.length);
  for (let i = 0; i < rows.length; i++) taken[i] = column[rows[i]!]!;
  return taken;
}

/**
 * All rows, each in its group.
 * @throws RangeError when a size is not whole and positive
 */
export function rowsByGroup(groupSizes: readonly number[]): Int32Array[] {
  let start = 0;
  return groupSizes.map((size) => {
    if (!(Number.isInteger(size) && size > 0))
      throw new RangeError(`A group of ${size} rows: resampling needs 1, 2, ...`);
    const first = start;
    start += size;
    return Int32Array.from({ length: size }, (_, i) => first + i);
  });
}

/**
 * Bootstrap replications: rows drawn with replacement, each group from its own rows.
 * @param groupSizes one number is the ordinary bootstrap
 * @throws RangeError when a size is not whole and positive
 * Source: Efron & Tibshirani 1993, ch. 6 and 8.
 */
export function bootstrapReplications(
  groupSizes: readonly number[],
  statistic: RowStatistic,
  resamples: number,
  seed: number,
): Resampled {
  const random = seededRandom(seed);
  const groups = rowsByGroup(groupSizes);
  const firstRows = groups.map((rows) => rows[0]!);
  return collect(resamples, () => {
    for (const [k, rows] of groups.entries()) {
      const first = firstRows[k]!;
      for (let i = 0; i < rows.length; i++)
        rows[i] = Math.floor(random.uniform(first, first + rows.length));
    }
    return statistic(...groups);
  });
}

/** With more rows than this the jackknife leaves out parts of the rows, or its cost would grow with their square. */
const MOST_JACKKNIFE_RUNS = 400;

/** Values that {@link jackknifeReplications} finds for a group of so many rows. */
export function jackknifeRuns(rows: number): number {
  return Math.min(rows, MOST_JACKKNIFE_RUNS);
}

/**
 * Values of a statistic with one row of one group left out at a time; of a large group one of 400 equal parts,
 * each of rows far apart. Skewness and variance formulas hold for parts as they do for rows.
 * @param group which group loses its rows
 * Source: Efron & Tibshirani 1993, ch. 11; parts: Shao & Tu 1995, The Jackknife and Bootstrap, section 2.3 (from memory).
 */
export function jackknifeReplications(
  groupSizes: readonly number[],
  statistic: RowStatistic,
  group: number,
): Resampled {
  const groups = rowsByGroup(groupSizes);
  const whole = groups[group]!;
  const runs = jackknifeRuns(whole.length);
  const left = new Int32Array(whole.length);
  return collect(runs, (part) => {
    let count = 0;
    for (let i = 0; i < whole.length; i++) if (i % runs !== part) left[count++] = whole[i]!;
    groups[group] = left.subarray(0, count);
    return statistic(...groups);
  });
}

function collect(count: number, draw: (i: number) => number | Unavailable): Resampled {
  const values = new Float64Array(count);
  let found = 0;
  for (let i = 0; i < count; i++) {
    const value = draw(i);
    if (typeof value === 'number' && Number.isFinite(value)) values[found++] = value;
  }
  return { values: values.subarray(0, found), failed: count - found };
}
