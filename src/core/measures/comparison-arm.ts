import { RAD_PER_DEG } from '../maths/angles.ts';
import { bcaInterval } from '../statistics/bootstrap-interval.ts';
import { isUnavailable, type Unavailable } from '../statistics/estimate.ts';
import { independentDifference } from '../statistics/independent-difference.ts';
import { checkedCovariance, checkedMean } from '../statistics/moments.ts';
import { permutationTest } from '../statistics/permutation-test.ts';
import { rowsByGroup } from '../statistics/resampling.ts';
import { armAngles, varies } from './arm-angles.ts';
import { BINNED_POINTS } from './binned-covariance.ts';
import {
  type ComparisonOptions,
  type MeasureContrast,
  type TwoConditions,
  tooFewIn,
  unknownContrast,
} from './comparison-measure.ts';
import { COMPARISON } from './comparison-words.ts';
import { freezing } from './freezing.ts';
import type { MeasuredSwing } from './measured-swing.ts';
import { postureDeviations, reachGradient, TURNS } from './posture-deviations.ts';
import { shares } from './shares.ts';
import { fitSwingTiming } from './swing-timing.ts';
import { MEASURES } from './thresholds.ts';

const { limits: LIMITS } = COMPARISON;
const CONTACT = 100;

/**
 * Signed share of forearm and implement in the spread of reach over the whole swing (see shares), smaller less
 * larger. Permutation: each swing's first-order contributions to reach about the mean posture of its condition, in
 * units of the condition's spread.
 * @param sets at least ten swings each
 * Source: see shares; interval: see independentDifference.
 * Checked: tests/measures/comparison.test.ts
 */
export function compareDistalShare(
  sets: TwoConditions,
  options: ComparisonOptions,
): MeasureContrast {
  const fault = tooFewIn(sets, LIMITS.minimumN);
  if (fault) return unknownContrast(fault);
  const [smaller, larger] = bothOf(sets, (swings) => {
    const found = shares(swings, options);
    return isUnavailable(found) ? found : found.wholeSwing.distal;
  });
  if (isUnavailable(smaller)) return unknownContrast(smaller);
  if (isUnavailable(larger)) return unknownContrast(larger);
  const [first, second] = bothOf(sets, contributions);
  if (isUnavailable(first)) return unknownContrast(first);
  if (isUnavailable(second)) return unknownContrast(second);
  const rows = [...first, ...second];
  return {
    smaller: smaller.value,
    larger: larger.value,
    contrast: independentDifference(smaller, larger),
    p: permutationTest(
      first.length,
      second.length,
      (a, b) => distalShare(rows, a!) - distalShare(rows, b!),
      options,
    ),
  };
}

/** First-order contributions of one swing to reach at each of BINNED_POINTS: all segments, and the upper arm alone. */
interface Contributions {
  readonly whole: Float64Array;
  readonly upperArm: Float64Array;
}

function contributions(swings: readonly MeasuredSwing[]): Contributions[] | Unavailable {
  const deviations = postureDeviations(swings, BINNED_POINTS);
  if (isUnavailable(deviations)) return deviations;
  const { n, postures, turnRad, lengthsM } = deviations;
  const gradients = postures.map((posture) => {
    const gradient = new Float64Array(TURNS);
    reachGradient(gradient, posture, lengthsM, new Float64Array(TURNS));
    return gradient;
  });
  const sum = (i: number, p: number, turns: number) => {
    const at = (p * n + i) * TURNS;
    let total = 0;
    for (let j = 0; j < turns; j++) total += gradients[p]![j]! * turnRad[at + j]!;
    return total;
  };
  const found = swings.map((_, i) => ({
    whole: Float64Array.from(postures, (_, p) => sum(i, p, TURNS)),
    // Two turns for each segment.
    upperArm: Float64Array.from(postures, (_, p) => sum(i, p, 2)),
  }));
  const squares = found.flatMap(({ whole }) => [...whole]).reduce((s, x) => s + x * x, 0);
  if (squares === 0) return { reason: 'no-spread' };
  const unit = Math.sqrt(squares / (n - 1));
  return found.map(({ whole, upperArm }) => ({
    whole: whole.map((x) => x / unit),
    upperArm: upperArm.map((x) => x / unit),
  }));
}

function distalShare(swings: readonly Contributions[], rows: Int32Array): number {
  const points = swings[0]!.whole.length;
  let own = 0;
  let all = 0;
  for (let p = 0; p < points; p++) {
    let [x, y, xy, yy] = [0, 0, 0, 0];
    for (let i = 0; i < rows.length; i++) {
      const { whole, upperArm } = swings[rows[i]!]!;
      x += upperArm[p]!;
      y += whole[p]!;
      xy += upperArm[p]! * whole[p]!;
      yy += whole[p]! * whole[p]!;
    }
    own += xy - (x * y) / rows.length;
    all += yy - (y * y) / rows.length;
  }
  return 1 - own / all;
}

/**
 * Coupling of upper arm and forearm at contact, smaller less larger: of the variance of one angle the share that goes
 * with the other (adjusted R^2, 0 on average without relation, so slightly below 0 at times), by the weakest of the
 * three correlations that the verdict on coupling asks for (see ContactCoupling). Sizes of correlations would be
 * drawn away from 0. BCa interval; permutation of the angles at contact, each in units of its condition.
 * @param sets at least ten swings each
 * Source: adjusted R^2: Ezekiel 1930 (from memory).  Checked: tests/measures/comparison.test.ts
 */
export function compareCoupling(sets: TwoConditions, options: ComparisonOptions): MeasureContrast {
  const fault = tooFewIn(sets, LIMITS.minimumN);
  if (fault) return unknownContrast(fault);
  const [smaller, larger] = bothOf(sets, contactAngles);
  if (isUnavailable(smaller)) return unknownContrast(smaller);
  if (isUnavailable(larger)) return unknownContrast(larger);
  const columns = smaller.map((column, k) => Float64Array.of(...column, ...larger[k]!));
  const weakest = (rows: Int32Array) => weakestOf(columns, rows);
  const difference = (a: Int32Array, b: Int32Array) => {
    const [first, second] = [weakest(a), weakest(b)];
    if (isUnavailable(first)) return first;
    return isUnavailable(second) ? second : first - second;
  };
  const sizes = [sets.smaller.length, sets.larger.length] as const;
  const groups = rowsByGroup(sizes);
  return {
    smaller: weakest(groups[0]!),
    larger: weakest(groups[1]!),
    contrast: bcaInterval(sizes, (a, b) => difference(a!, b!), options),
    p: permutationTest(...sizes, (a, b) => difference(a!, b!), options),
  };
}

/**
 * Whether the elbow is shown to be held still: a stiff arm turns upper arm and forearm together, which is no coupling.
 * @param swings with a known court heading
 * Source: limit in MEASURES.freezing.  Checked: tests/measures/comparison.test.ts
 */
export function isElbowHeldStill(swings: readonly MeasuredSwing[]): boolean {
  const angles = armAngles(swings);
  const found = isUnavailable(angles) ? angles : freezing(swings, angles);
  const excursion = isUnavailable(found) ? found : found.elbowExcursionRad;
  const limitRad = MEASURES.freezing.limits.frozenBelowDeg * RAD_PER_DEG;
  return !isUnavailable(excursion) && excursion.high < limitRad;
}

/** Upper arm, forearm, elbow and timing at contact, with mean 0 and SD 1. */
function contactAngles(swings: readonly MeasuredSwing[]): Float64Array[] | Unavailable {
  const found = armAngles(swings);
  if (isUnavailable(found)) return found;
  const angles = [found.upperArm, found.forearm, found.elbow].map((angle) => angle[CONTACT]!);
  if (!angles.every(varies)) return { reason: 'no-spread' };
  return [...angles, fitSwingTiming(swings).shift].map(standardised);
}

/** @param columns upper arm, forearm, elbow and timing, centred, so that one pass loses no digits */
function weakestOf(
  [upperArm, forearm, elbow, shift]: readonly Float64Array[],
  rows: Int32Array,
): number | Unavailable {
  const r = (x: Float64Array, y: Float64Array) => correlationOver(x, y, rows);
  const inSpace = r(upperArm!, forearm!);
  const withElbow = r(upperArm!, elbow!);
  const [byUpperArm, byForearm] = [r(upperArm!, shift!), r(forearm!, shift!)];
  // As partialCorrelation has it; NaN where the timing does not vary, which changes nothing then.
  const partial =
    (inSpace - byUpperArm * byForearm) / Math.sqrt((1 - byUpperArm ** 2) * (1 - byForearm ** 2));
  const withoutTiming = Number.isFinite(partial) ? partial : inSpace;
  const weakest = Math.min(...[inSpace, withElbow, withoutTiming].map(Math.abs));
  const n = rows.length;
  return Number.isFinite(weakest)
    ? 1 - ((1 - weakest ** 2) * (n - 1)) / (n - 2)
    : { reason: 'no-spread' };
}

function correlationOver(x: Float64Array, y: Float64Array, rows: Int32Array): number {
  let [a, b, aa, bb, ab] = [0, 0, 0, 0, 0];
  for (let i = 0; i < rows.length; i++) {
    const row = rows[i]!;
    const [u, v] = [x[row]!, y[row]!];
    a += u;
    b += v;
    aa += u * u;
    bb += v * v;
    ab += u * v;
  }
  const n = rows.length;
  return (ab - (a * b) / n) / Math.sqrt((aa - (a * a) / n) * (bb - (b * b) / n));
}

function standardised(column: Float64Array): Float64Array {
  const centre = checkedMean(column);
  const sd = Math.sqrt(checkedCovariance(column, column));
  return column.map((x) => (sd > 0 ? (x - centre) / sd : 0));
}

function bothOf<T>({ smaller, larger }: TwoConditions, of: (s: readonly MeasuredSwing[]) => T) {
  return [of(smaller), of(larger)] as const;
}
