import { checkedSd } from '../statistics/moments.ts';
import type { MeasuredSwing } from './measured-swing.ts';
import { type MidToContact, midToContact } from './narrowing.ts';
import { columnOf, type ReachTable } from './reach-table.ts';
import { commonShare, courseReach, type SwingTiming } from './swing-timing.ts';

/** What swings that differ in their timing alone would show. */
export interface TimingNull {
  /** Spread of reach they would have, metres, shape (101); near 0 % too small, since nothing is known before it. */
  readonly spreadM: Float64Array;
  /** SD of the timing at mid-swing, seconds. */
  readonly jitterS: number;
  /** Spread at mid-swing that timing cannot explain, metres. */
  readonly leftSpreadM: number;
  /** The same against all of the spread at contact. */
  readonly left: MidToContact;
}

/**
 * Surrogate null of timing jitter: each swing is replaced by the common course at that swing's timing, so
 * that nothing but timing differs, aligned on contact like the swings themselves. Such swings narrow toward
 * contact without any control. What the surrogate leaves over at mid-swing must therefore still exceed the
 * spread at contact; there nothing is taken off, so that the comparison can only be too strict.
 * @param table the reach of `swings` over normalised time, n >= 4 for the comparison
 * @param timing fitted to the same swings
 * Source: design.md section 9; surrogate data: Theiler et al. 1992, doi 10.1016/0167-2789(92)90102-S.
 * Checked: tests/measures/timing-null.test.ts
 */
export function timingNull(
  swings: readonly MeasuredSwing[],
  table: ReachTable,
  timing: SwingTiming,
): TimingNull {
  const { n, points, mid } = table;
  const shareOf = (p: number) => p / (points - 1);
  const surrogateAt = (p: number) =>
    Float64Array.from({ length: n }, (_, i) =>
      courseReach(timing.course, commonShare(timing, i, shareOf(p))),
    );
  const surrogate = surrogateAt(mid);
  const left = surrogate.map((reachM, i) => columnOf(table, mid)[i]! - reachM);
  const jitter = surrogate.map(
    (_, i) => (commonShare(timing, i, shareOf(mid)) - shareOf(mid)) * swings[i]!.durationS,
  );
  return {
    spreadM: Float64Array.from({ length: points }, (_, p) => checkedSd(surrogateAt(p))),
    jitterS: checkedSd(jitter),
    leftSpreadM: checkedSd(left),
    left: midToContact(table, left),
  };
}
