import { dataFault, type Unavailable } from './estimate.ts';
import { checkedCovariance } from './moments.ts';

/**
 * Effective dimension of columns that vary together, (tr C)^2 / tr C^2: 1 when all move along one line, the
 * number of columns when they spread alike and independently. Few rows make the covariance look less round
 * than it is; both traces are taken without that bias, which lets the ratio stray a little past its bounds.
 * @param columns of one unit, with at least two rows more than columns
 * @returns 'no-spread' when nothing varies
 * @throws RangeError when the lengths differ
 * Source: ratio: Gao & Ganguli 2015, doi 10.1016/j.conb.2015.04.003 (from memory); unbiased traces for
 *   normal rows: Srivastava 2005, doi 10.14490/jjss.35.251 (from memory).
 * Checked: tests/statistics/participation-ratio.test.ts
 */
export function participationRatio(columns: readonly ArrayLike<number>[]): number | Unavailable {
  const fault = dataFault(columns.length + 2, ...columns);
  if (fault) return fault;
  const df = columns[0]!.length - 1;
  let trace = 0;
  let squares = 0;
  for (const [i, x] of columns.entries()) {
    trace += checkedCovariance(x, x);
    for (const y of columns.slice(0, i)) squares += 2 * checkedCovariance(x, y) ** 2;
    squares += checkedCovariance(x, x) ** 2;
  }
  const traceOfSquare = ((df * df) / ((df - 1) * (df + 2))) * (squares - (trace * trace) / df);
  const squareOfTrace = trace * trace - (2 / df) * traceOfSquare;
  if (!(traceOfSquare > 0)) return { reason: 'no-spread' };
  return squareOfTrace / traceOfSquare;
}
