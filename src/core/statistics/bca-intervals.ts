import {
  type BootstrapOptions,
  checkResamples,
  intervalOf,
  LEAST_BOOTSTRAP_ROWS,
  RESAMPLES,
} from './bootstrap-interval.ts';
import { checkLevel, type Estimate, isUnavailable, type Unavailable } from './estimate.ts';
import {
  bootstrapReplications,
  jackknifeReplications,
  jackknifeRuns,
  type Resampled,
  rowsByGroup,
} from './resampling.ts';
import { smallSampleLevel } from './small-sample-level.ts';

/**
 * Several numbers from the same rows, written to `out`; NaN where these rows give no value.
 * Rows may repeat, and are used again for the next resample: read them, do not keep them.
 */
export type RowStatistics = (rows: Int32Array, out: Float64Array) => void;

/**
 * Bias-corrected and accelerated bootstrap intervals of many statistics from the same resamples. Each is what
 * bcaInterval would give it at smallSampleLevel, so that few rows do not make it too short.
 * @param n rows @param levels confidence level of each statistic
 * @returns one answer per statistic, reasons as in bcaInterval, 'no-spread' for one without a value
 * @throws RangeError for a level or a number of resamples that makes no sense
 * Source: Efron 1987, doi 10.1080/01621459.1987.10478410.
 * Checked: tests/statistics/bca-intervals.test.ts, against bcaInterval; coverage: tests/measures/arm-operating.test.ts
 */
export function bcaIntervals(
  n: number,
  levels: readonly number[],
  statistics: RowStatistics,
  { seed, resamples = RESAMPLES }: Pick<BootstrapOptions, 'seed' | 'resamples'>,
): (Estimate | Unavailable)[] {
  levels.forEach(checkLevel);
  checkResamples(resamples);
  if (n < LEAST_BOOTSTRAP_ROWS)
    return levels.map(() => ({ reason: 'too-few', need: LEAST_BOOTSTRAP_ROWS, have: n }));
  const count = levels.length;
  const values = new Float64Array(count);
  statistics(rowsByGroup([n])[0]!, values);
  const drawn = tabulate(count, resamples, statistics, (row) => {
    bootstrapReplications([n], row, resamples, seed);
  });
  const jackknife = tabulate(count, jackknifeRuns(n), statistics, (row) => {
    jackknifeReplications([n], row, 0);
  });
  return levels.map((level, k) => {
    const value = values[k]!;
    if (!Number.isFinite(value)) return { reason: 'no-spread' };
    const wider = smallSampleLevel(level, n);
    const answer = intervalOf(value, drawn[k]!, [jackknife[k]!], wider, n);
    return isUnavailable(answer) ? answer : { ...answer, level };
  });
}

/** Values of all statistics over the rows that `run` goes through. */
function tabulate(
  count: number,
  runs: number,
  statistics: RowStatistics,
  run: (row: (rows: Int32Array) => number) => void,
): Resampled[] {
  const columns = Array.from({ length: count }, () => new Float64Array(runs));
  const out = new Float64Array(count);
  let i = 0;
  run((rows) => {
    statistics(rows, out);
    for (let k = 0; k < count; k++) columns[k]![i] = out[k]!;
    i++;
    return 0;
  });
  return columns.map((column) => {
    let found = 0;
    for (let run = 0; run < runs; run++)
      if (Number.isFinite(column[run])) column[found++] = column[run]!;
    return { values: column.subarray(0, found), failed: runs - found };
  });
}
