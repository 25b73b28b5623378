import type { Unavailable } from '../statistics/estimate.ts';
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
import type { MeasuredSwing } from './measured-swing.ts';
import { type ReachTable, reachInPercent } from './reach-table.ts';

/** A variance of reach below that of a nanometre is rounding. */
const ROUNDING_M2 = 1e-18;

/**
 * Narrowing ratio (see narrowingRatio), smaller over larger. Interval by the jackknife of the logarithm, which holds
 * its level better here than the bootstrap; permutation of whole curves, each condition about its mean curve and in
 * units of its widest spread.
 * @param sets at least ten swings each
 * @returns 'no-spread' when the spread at contact is within the floor in one of them
 * Checked: tests/measures/comparison.test.ts
 */
export function compareNarrowing(sets: TwoConditions, options: ComparisonOptions): MeasureContrast {
  const fault = tooFewIn(sets, COMPARISON.limits.minimumN) ?? reachFault(sets);
  if (fault) return unknownContrast(fault);
  const [smaller, larger] = [sets.smaller, sets.larger].map((swings) =>
    inUnitsOfWidest(reachInPercent(swings)),
  ) as [ScaledCurve[] | null, ScaledCurve[] | null];
  if (smaller === null || larger === null) return unknownContrast({ reason: 'no-spread' });
  const curves = [...smaller, ...larger];
  const sizes = [smaller.length, larger.length] as const;
  const groups = rowsByGroup(sizes);
  const ratio = (a: Int32Array, b: Int32Array) => narrowingOf(curves, a) / narrowingOf(curves, b);
  return {
    smaller: narrowingOf(curves, groups[0]!),
    larger: narrowingOf(curves, groups[1]!),
    contrast: logJackknifeInterval(sizes, (a, b) => ratio(a!, b!)),
    p: permutationTest(...sizes, (a, b) => Math.log(ratio(a!, b!)), options),
  };
}

/**
 * Narrowing ratio of a set as a number alone, the same as that of narrowingRatio.
 * @param swings at least two @returns 'no-spread' when no instant has a spread above its floor
 */
export function narrowingOfSet(swings: readonly MeasuredSwing[]): number | Unavailable {
  const curves = inUnitsOfWidest(reachInPercent(swings));
  return curves === null
    ? { reason: 'no-spread' }
    : narrowingOf(curves, rowsByGroup([curves.length])[0]!);
}

/** A swing's deviation from the mean curve and square of the floor, in units of the widest spread. */
interface ScaledCurve {
  readonly deviation: Float64Array;
  readonly floorSquare: Float64Array;
}

/** null when no instant has a spread above its floor. */
function inUnitsOfWidest({ n, points, deviationM, funnel }: ReachTable): ScaledCurve[] | null {
  const above = funnel.spreadM.map((spread, p) => spread ** 2 - funnel.floorM[p]! ** 2);
  const square = Math.max(...above);
  if (!(square > ROUNDING_M2)) return null;
  const floorSquare = funnel.floorM.map((floor) => floor ** 2 / square);
  return Array.from({ length: n }, (_, i) => ({
    deviation: Float64Array.from(
      { length: points },
      (_, p) => deviationM[p * n + i]! / Math.sqrt(square),
    ),
    floorSquare,
  }));
}

function narrowingOf(curves: readonly ScaledCurve[], rows: Int32Array): number {
  const points = curves[0]!.deviation.length;
  const n = rows.length;
  let most = 0;
  let last = 0;
  for (let p = 0; p < points; p++) {
    let sum = 0;
    let squares = 0;
    let floor = 0;
    for (let i = 0; i < n; i++) {
      const curve = curves[rows[i]!]!;
      const x = curve.deviation[p]!;
      sum += x;
      squares += x * x;
      floor += curve.floorSquare[p]!;
    }
    last = (squares - (sum * sum) / n) / (n - 1) - floor / n;
    most = Math.max(most, last);
  }
  return Math.sqrt(Math.max(0, last) / most);
}
