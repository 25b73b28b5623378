import { wrapAngle } from '../maths/angles.ts';
import { type Estimate, isUnavailable, type Unavailable } from '../statistics/estimate.ts';
import { independentDifference } from '../statistics/independent-difference.ts';
import { checkedMean } from '../statistics/moments.ts';
import { permutationTest } from '../statistics/permutation-test.ts';
import { armAngles, varies } from './arm-angles.ts';
import {
  type ComparisonOptions,
  type MeasureContrast,
  type TwoConditions,
  tooFewIn,
  unknownContrast,
} from './comparison-measure.ts';
import { jointElements } from './manifold-through-swing.ts';
import type { MeasuredSwing } from './measured-swing.ts';
import { jointGradient, type MeanArm, meanArm } from './reach-gradient.ts';
import { MEASURES } from './thresholds.ts';
import { manifoldSpread } from './uncontrolled-manifold.ts';

const CONTACT = 100;

/**
 * deltaVz of elbow and wrist at contact (half the logarithm of V_UCM/V_ORT, see manifoldSpread), smaller less
 * larger, each condition on its own manifold. Permutation of the deviations along and across it; the manifold turns
 * with their mean posture when they are rearranged, as it would with other swings.
 * @param sets at least fifteen swings each
 * Source: Scholz & Schoner 1999, see manifoldSpread; interval: see independentDifference.
 * Checked: tests/measures/comparison.test.ts
 */
export function compareManifold(sets: TwoConditions, options: ComparisonOptions): MeasureContrast {
  const fault = tooFewIn(sets, MEASURES.manifold.limits.minimumN);
  if (fault) return unknownContrast(fault);
  const [smaller, larger] = [jointsOf(sets.smaller), jointsOf(sets.larger)];
  if (isUnavailable(smaller)) return unknownContrast(smaller);
  if (isUnavailable(larger)) return unknownContrast(larger);
  const { deltaVz: first } = smaller;
  const { deltaVz: second } = larger;
  if (isUnavailable(first)) return unknownContrast(first);
  if (isUnavailable(second)) return unknownContrast(second);
  const both = [...smaller.deviations, ...larger.deviations];
  return {
    smaller: first.value,
    larger: second.value,
    contrast: independentDifference(first, second),
    p: permutationTest(
      first.n,
      second.n,
      (a, b) => Math.log(varianceRatio(both, a!) / varianceRatio(both, b!)),
      options,
    ),
  };
}

/** Elbow and wrist of one swing off the mean of its condition, radians. */
interface JointDeviation {
  /** Along the manifold of its condition and across it. */
  readonly along: number;
  readonly across: number;
  /** How far that manifold turns, rad, for each radian the posture moves along and across it. */
  readonly turn: readonly [number, number];
}

/** For the turn of the manifold, by differences. */
const STEP_RAD = 1e-3;

interface Joints {
  readonly deltaVz: Estimate | Unavailable;
  readonly deviations: readonly JointDeviation[];
}

function jointsOf(swings: readonly MeasuredSwing[]): Joints | Unavailable {
  const angles = armAngles(swings);
  if (isUnavailable(angles)) return angles;
  const arm = meanArm(swings, angles.plane.normal, CONTACT);
  if (isUnavailable(arm)) return arm;
  const elements = jointElements(angles, arm, CONTACT);
  const [x, y] = elements.columns as [Float64Array, Float64Array];
  if (!(varies(x) && varies(y))) return { reason: 'no-spread' };
  return { deltaVz: manifoldSpread(elements).deltaVz, deviations: jointDeviations(arm, x, y) };
}

function jointDeviations(arm: MeanArm, x: Float64Array, y: Float64Array): JointDeviation[] {
  const [elbow, wrist] = [checkedMean(x), checkedMean(y)];
  /** Direction in which reach grows fastest, off the mean posture by so much, radians. */
  const steepest = (dx: number, dy: number) => {
    const [byElbow, byWrist] = jointGradient(arm, [elbow + dx, wrist + dy]);
    return Math.atan2(byWrist, byElbow);
  };
  const acrossRad = steepest(0, 0);
  const [c, s] = [Math.cos(acrossRad), Math.sin(acrossRad)];
  const turnFor = (dx: number, dy: number) =>
    wrapAngle(steepest(STEP_RAD * dx, STEP_RAD * dy) - acrossRad) / STEP_RAD;
  const turn = [turnFor(-s, c), turnFor(c, s)] as const;
  return Array.from(x, (_, i) => {
    const [dx, dy] = [x[i]! - elbow, y[i]! - wrist];
    return { along: c * dy - s * dx, across: c * dx + s * dy, turn };
  });
}

/** V_UCM / V_ORT of some swings, on the manifold of their own mean posture: one dimension each. */
function varianceRatio(deviations: readonly JointDeviation[], rows: Int32Array): number {
  const n = rows.length;
  let [a, b, aa, bb, ab, byAlong, byAcross] = [0, 0, 0, 0, 0, 0, 0];
  for (let i = 0; i < n; i++) {
    const { along, across, turn } = deviations[rows[i]!]!;
    a += along / n;
    b += across / n;
    aa += along * along;
    bb += across * across;
    ab += along * across;
    byAlong += turn[0] / n;
    byAcross += turn[1] / n;
  }
  const angle = byAlong * a + byAcross * b;
  const [c, s] = [Math.cos(angle), Math.sin(angle)];
  const [vaa, vbb, vab] = [aa - n * a * a, bb - n * b * b, ab - n * a * b];
  const along = c * c * vaa - 2 * c * s * vab + s * s * vbb;
  const across = c * c * vbb + 2 * c * s * vab + s * s * vaa;
  return along / across;
}
