import { isUnavailable, type Unavailable } from '../statistics/estimate.ts';
import { logJackknifeInterval } from '../statistics/log-jackknife-interval.ts';
import { permutationTest } from '../statistics/permutation-test.ts';
import { rowsByGroup } from '../statistics/resampling.ts';
import {
  type ComparisonOptions,
  type MeasureContrast,
  type TwoConditions,
  tooFewIn,
  unknownContrast,
} from './comparison-measure.ts';
import { reachFault } from './comparison-reach.ts';
import { COMPARISON } from './comparison-words.ts';
import {
  contactToWidest,
  type ReachDeviation,
  reachDeviations,
  trueRatio,
} from './contact-to-widest.ts';
import type { MeasuredSwing } from './measured-swing.ts';
import { reachInPercent } from './reach-table.ts';

/**
 * Narrowing ratio (see narrowingRatio), smaller over larger. Interval by the jackknife of the logarithm; permutation
 * of whole curves, each condition about its mean curve and in units of its widest spread.
 * @param sets at least ten swings each
 * @returns 'no-spread' when the spread at contact is within the floor in one of them
 * Source: Miller 1968, see logJackknifeInterval.  Checked: tests/measures/comparison.test.ts
 */
export function compareNarrowing(sets: TwoConditions, options: ComparisonOptions): MeasureContrast {
  const fault = tooFewIn(sets, COMPARISON.limits.minimumN) ?? reachFault(sets);
  if (fault) return unknownContrast(fault);
  const [smaller, larger] = [inUnitsOfWidest(sets.smaller), inUnitsOfWidest(sets.larger)];
  if (smaller === null || larger === null) return unknownContrast({ reason: 'no-spread' });
  const curves = [...smaller, ...larger];
  const sizes = [smaller.length, larger.length] as const;
  const groups = rowsByGroup(sizes);
  const ratio = (a: Int32Array, b: Int32Array) => {
    const [first, second] = [ratioOf(curves, a), ratioOf(curves, b)];
    if (isUnavailable(first)) return first;
    return isUnavailable(second) ? second : first / second;
  };
  return {
    smaller: ratioOf(curves, groups[0]!),
    larger: ratioOf(curves, groups[1]!),
    contrast: logJackknifeInterval(sizes, (a, b) => ratio(a!, b!)),
    p: permutationTest(
      ...sizes,
      (a, b) => {
        const found = ratio(a!, b!);
        return isUnavailable(found) ? found : Math.log(found);
      },
      options,
    ),
  };
}

/** null when no instant has a spread above its floor. */
function inUnitsOfWidest(swings: readonly MeasuredSwing[]): ReachDeviation[] | null {
  const table = reachInPercent(swings);
  const everyone = rowsByGroup([table.n])[0]!;
  const whole = contactToWidest(reachDeviations(table), everyone);
  if (isUnavailable(trueRatio(whole))) return null;
  const { square, floorSquare } = whole.widest;
  return reachDeviations(table, Math.sqrt(square - floorSquare));
}

function ratioOf(curves: readonly ReachDeviation[], rows: Int32Array): number | Unavailable {
  return trueRatio(contactToWidest(curves, rows));
}
