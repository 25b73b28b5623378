import type { Estimate } from '../statistics/estimate.ts';
import { BINS } from './binned-covariance.ts';

/** The largest jump of a segment's own-variance share between neighbouring tenths of the last 30 %. */
export interface HandOver {
  /** Size of the jump, 0 to 1; the jump is chosen anew in every resample. */
  readonly index: Estimate;
  /** Segment whose share jumps most: 0 upper arm, 1 forearm, 2 implement. */
  readonly segment: number;
  /** Jump of that share, with its sign. */
  readonly change: number;
  /** The jump lies at this per cent of the swing. */
  readonly atPercent: number;
}

/** First of the bins of the last 30 %. */
const FIRST_BIN = BINS - 3;

/**
 * Finds the jump. Shares of own variance are used, not covariance shares: where the segments make up for each
 * other the latter have a small denominator, and jump without any hand-over.
 * @param own own-variance shares, shape (10 bins, 3 segments); NaN in a bin without spread
 * @returns null when a bin has no shares
 * Source: design.md section 9.  Checked: tests/measures/shares.test.ts
 */
export function findHandOver(own: ArrayLike<number>): Omit<HandOver, 'index'> | null {
  let largest = { segment: 0, change: 0, atPercent: 0 };
  for (let bin = FIRST_BIN + 1; bin < BINS; bin++)
    for (let segment = 0; segment < 3; segment++) {
      const change = own[3 * bin + segment]! - own[3 * (bin - 1) + segment]!;
      if (Number.isNaN(change)) return null;
      if (Math.abs(change) > Math.abs(largest.change))
        largest = { segment, change, atPercent: (100 / BINS) * bin };
    }
  return largest;
}
