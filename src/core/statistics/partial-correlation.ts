import { type Correlation, correlation, pearson } from './correlation.ts';
import { normalQuantile, tTwoSidedP } from './distributions.ts';
import { CONFIDENCE, checkLevel, dataFault, type Unavailable } from './estimate.ts';

/**
 * Correlation of two columns with what either shares linearly with a third taken out:
 *   (r_xy - r_xz r_yz) / sqrt((1 - r_xz^2)(1 - r_yz^2)),
 * Fisher's interval and t with one observation less. A third column without spread changes nothing.
 * @param x, y, z rows of three columns, at least five
 * @returns 'collinear' when the third explains one of the two wholly
 * @throws RangeError when the lengths differ
 * Source: Fisher 1924, Metron 3:329 (from memory).  Checked: tests/statistics/partial-correlation.test.ts
 */
export function partialCorrelation(
  x: ArrayLike<number>,
  y: ArrayLike<number>,
  z: ArrayLike<number>,
  level = CONFIDENCE,
): Correlation | Unavailable {
  checkLevel(level);
  const fault = dataFault(5, x, y, z);
  if (fault) return fault;
  const xy = pearson(x, y);
  const xz = pearson(x, z);
  const yz = pearson(y, z);
  if (typeof xy !== 'number') return xy;
  if (typeof xz !== 'number' || typeof yz !== 'number') return correlation(x, y, level);
  const left = (1 - xz * xz) * (1 - yz * yz);
  if (!(left > Number.EPSILON)) return { reason: 'collinear' };
  const value = Math.max(-1, Math.min(1, (xy - xz * yz) / Math.sqrt(left)));
  const n = x.length;
  const half = normalQuantile((1 + level) / 2) / Math.sqrt(n - 4);
  return {
    value,
    low: Math.tanh(Math.atanh(value) - half),
    high: Math.tanh(Math.atanh(value) + half),
    level,
    n,
    p: tTwoSidedP(value * Math.sqrt((n - 3) / (1 - value * value)), n - 3),
  };
}
