import { wrapAngle } from '../maths/angles.ts';
import { type Estimate, isUnavailable, type Unavailable } from '../statistics/estimate.ts';
import { logJackknifeInterval } from '../statistics/log-jackknife-interval.ts';
import { checkedMean } from '../statistics/moments.ts';
import { permutationTest } from '../statistics/permutation-test.ts';
import { rowsByGroup } from '../statistics/resampling.ts';
import { armAngles, varies } from './arm-angles.ts';
import {
  type ComparisonOptions,
  type MeasureContrast,
  type TwoConditions,
  tooFewIn,
  unknownContrast,
} from './comparison-measure.ts';
import type { MeasuredSwing } from './measured-swing.ts';
import { type MeanArm, meanArm, reachOfJoints } from './reach-gradient.ts';
import { MEASURES } from './thresholds.ts';

const CONTACT = 100;

/**
 * deltaVz of elbow and wrist at contact (half the logarithm of V_UCM/V_ORT, see manifoldSpread), smaller less
 * larger, each condition on its own manifold. That manifold is the mean posture's, and near a straight arm it turns
 * quickly with the posture: it is turned along whenever swings are left out or rearranged, as it would be with
 * other swings. Interval by the jackknife of the logarithm; permutation of the deviations.
 * @param sets at least fifteen swings each
 * Source: Scholz & Schoner 1999, see manifoldSpread.  Checked: tests/measures/comparison.test.ts
 */
export function compareManifold(sets: TwoConditions, options: ComparisonOptions): MeasureContrast {
  const fault = tooFewIn(sets, MEASURES.manifold.limits.minimumN);
  if (fault) return unknownContrast(fault);
  const smaller = jointDeviations(sets.smaller);
  if (isUnavailable(smaller)) return unknownContrast(smaller);
  const larger = jointDeviations(sets.larger);
  if (isUnavailable(larger)) return unknownContrast(larger);
  const sizes = [smaller.length, larger.length] as const;
  const both = [...smaller, ...larger];
  const groups = rowsByGroup(sizes);
  const ratio = (a: Int32Array, b: Int32Array) => varianceRatio(both, a) / varianceRatio(both, b);
  const deltaVz = (rows: Int32Array) => {
    const rho = varianceRatio(both, rows);
    return rho > 0 && rho < Infinity ? Math.log(rho) / 2 : ({ reason: 'no-spread' } as const);
  };
  return {
    smaller: deltaVz(groups[0]!),
    larger: deltaVz(groups[1]!),
    contrast: halfLog(logJackknifeInterval(sizes, (a, b) => ratio(a!, b!))),
    p: permutationTest(...sizes, (a, b) => Math.log(ratio(a!, b!)), options),
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

function jointDeviations(swings: readonly MeasuredSwing[]): JointDeviation[] | Unavailable {
  const angles = armAngles(swings);
  if (isUnavailable(angles)) return angles;
  const joints = [angles.elbow[CONTACT]!, angles.wrist[CONTACT]!] as const;
  if (!joints.every(varies)) return { reason: 'no-spread' };
  const arm = meanArm(swings, angles.plane.normal, CONTACT);
  if (isUnavailable(arm)) return arm;
  const [elbow, wrist] = joints.map(checkedMean) as [number, number];
  const acrossRad = Math.atan2(arm.jointGradient[1], arm.jointGradient[0]);
  const [c, s] = [Math.cos(acrossRad), Math.sin(acrossRad)];
  const turnFor = (x: number, y: number) =>
    wrapAngle(
      gradientAngle(arm, elbow + STEP_RAD * x, wrist + STEP_RAD * y) -
        gradientAngle(arm, elbow, wrist),
    ) / STEP_RAD;
  const turn = [turnFor(-s, c), turnFor(c, s)] as const;
  return swings.map((_, i) => {
    const [x, y] = [joints[0][i]! - elbow, joints[1][i]! - wrist];
    return { along: c * y - s * x, across: c * x + s * y, turn };
  });
}

/** Direction in which reach grows fastest in the plane of elbow and wrist, radians. */
function gradientAngle(arm: MeanArm, elbow: number, wrist: number): number {
  const slope = (x: number, y: number) =>
    reachOfJoints(arm, elbow + x, wrist + y) - reachOfJoints(arm, elbow - x, wrist - y);
  return Math.atan2(slope(0, STEP_RAD), slope(STEP_RAD, 0));
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

function halfLog(ratio: Estimate | Unavailable): Estimate | Unavailable {
  if (isUnavailable(ratio)) return ratio;
  const half = (x: number) => Math.log(x) / 2;
  return { ...ratio, value: half(ratio.value), low: half(ratio.low), high: half(ratio.high) };
}
