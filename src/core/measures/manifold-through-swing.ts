import { type Estimate, isUnavailable, type Unavailable } from '../statistics/estimate.ts';
import { checkedCovariance, checkedMean } from '../statistics/moments.ts';
import type { PermutationOptions } from '../statistics/permutation-test.ts';
import { ACCURACY_CLASSES, type AccuracyClass, type AccuracyClasses } from './accuracy-classes.ts';
import { type ArmAngles, TENTHS } from './arm-angles.ts';
import { type Covariation, covariation, isSteadying } from './covariation.ts';
import type { MeasuredSwing } from './measured-swing.ts';
import {
  jointGradient,
  type MeanArm,
  meanArm,
  reachOfJoints,
  segmentGradient,
} from './reach-gradient.ts';
import { MEASURES } from './thresholds.ts';
import { type Elements, type ManifoldSpread, manifoldSpread } from './uncontrolled-manifold.ts';
import { unknownVerdict, type Verdict, verdictOf } from './verdict.ts';

/** Spread along and across the manifold of one set of angles: all swings, and each class by itself. */
export interface SplitSpread {
  readonly all: ManifoldSpread;
  readonly byClass: Readonly<Record<AccuracyClass, ManifoldSpread | Unavailable>>;
}

/** The uncontrolled manifold of reach at one instant. */
export interface ManifoldAt {
  readonly percent: number;
  /** Three in-plane segment angles. A turn of the whole arm lies in their manifold and inflates it. */
  readonly segments: SplitSpread;
  /** Elbow and wrist, free of such turns. */
  readonly joints: SplitSpread;
  /** Squared correlation of reach with what the gradient makes of elbow and wrist. */
  readonly explained: number | Unavailable;
}

export interface ManifoldThroughSwing {
  readonly n: number;
  /** At 0, 10, .. 100 % of the swing. */
  readonly at: readonly ManifoldAt[];
  /** Elbow and wrist at contact. */
  readonly covariation: Covariation | Unavailable;
  readonly verdict: Verdict<'steadied' | 'undecided' | 'unexplained'>;
}

const { limits: LIMITS } = MEASURES.manifold;
const CONTACT = 100;

/**
 * UCM analysis of reach through the swing, and covariation of elbow and wrist at contact. The verdict needs
 * both, and angles that explain reach: less spread across the manifold than along it can come from a wrist that
 * merely varies more than the elbow, and the permutation test alone does not see which spread is the larger.
 * @param swings at least fifteen @param angles of these swings @param classes of these swings; ten in a class
 * @returns the same for the same swings and seed
 * Source: design.md section 9; Scholz & Schoner 1999, Muller & Sternad 2003.
 * Checked: tests/measures/manifold-through-swing.test.ts; tests/measures/manifold-operating.test.ts
 */
export function manifoldThroughSwing(
  swings: readonly MeasuredSwing[],
  angles: ArmAngles | Unavailable,
  classes: AccuracyClasses,
  options: PermutationOptions,
): ManifoldThroughSwing | Unavailable {
  const n = swings.length;
  if (n < LIMITS.minimumN) return { reason: 'too-few', need: LIMITS.minimumN, have: n };
  if (isUnavailable(angles)) return angles;
  const arms = TENTHS.map((point) => meanArm(swings, angles.plane.normal, point));
  const at: ManifoldAt[] = [];
  for (const [i, arm] of arms.entries()) {
    if (isUnavailable(arm)) return arm;
    at.push(manifoldAt(swings, angles, classes, arm, TENTHS[i]!));
  }
  const found = jointCovariation(angles, arms.at(-1) as MeanArm, options);
  return { n, at, covariation: found, verdict: judge(n, at.at(-1)!, found) };
}

/** Elbow and wrist at a point of the swing, and what they do to the reach of the mean arm. */
export function jointElements(
  { elbow, wrist }: ArmAngles,
  arm: MeanArm,
  percent: number,
): Elements {
  return {
    columns: [elbow[percent]!, wrist[percent]!],
    jacobianAt: (joints) => [jointGradient(arm, joints)],
  };
}

function manifoldAt(
  swings: readonly MeasuredSwing[],
  angles: ArmAngles,
  classes: AccuracyClasses,
  arm: MeanArm,
  percent: number,
): ManifoldAt {
  const joints = jointElements(angles, arm, percent);
  const segments: Elements = {
    columns: [angles.upperArm, angles.forearm, angles.implement].map((angle) => angle[percent]!),
    jacobianAt: (inPlane) => [segmentGradient(arm, inPlane)],
  };
  return {
    percent,
    segments: splitSpread(segments, classes),
    joints: splitSpread(joints, classes),
    explained: explainedShare(swings, joints, percent),
  };
}

function splitSpread(elements: Elements, classes: AccuracyClasses): SplitSpread {
  const [accurate, fair, poor] = ACCURACY_CLASSES.map((name) => {
    const rows = classes.rows[name];
    const need = LIMITS.classMinimumN;
    return rows.length < need
      ? ({ reason: 'too-few', need, have: rows.length } as const)
      : manifoldSpread(elements, rows);
  });
  return {
    all: manifoldSpread(elements),
    byClass: { accurate: accurate!, fair: fair!, poor: poor! },
  };
}

function explainedShare(
  swings: readonly MeasuredSwing[],
  { columns, jacobianAt }: Elements,
  percent: number,
): number | Unavailable {
  const [slopes] = jacobianAt(columns.map(checkedMean));
  const reach = swings.map(({ reachCurveM }) => reachCurveM[percent]!);
  const linear = reach.map((_, i) => columns.reduce((sum, x, k) => sum + slopes![k]! * x[i]!, 0));
  const product = checkedCovariance(reach, reach) * checkedCovariance(linear, linear);
  // Spreads below ten nanometres are rounding.
  if (!(product > 1e-32)) return { reason: 'no-spread' };
  return checkedCovariance(reach, linear) ** 2 / product;
}

function jointCovariation(
  { elbow, wrist }: ArmAngles,
  arm: MeanArm,
  options: PermutationOptions,
): Covariation | Unavailable {
  return covariation(
    [elbow[CONTACT]!, wrist[CONTACT]!],
    (joints) => reachOfJoints(arm, joints[0]!, joints[1]!),
    options,
  );
}

function judge(
  n: number,
  contact: ManifoldAt,
  found: Covariation | Unavailable,
): ManifoldThroughSwing['verdict'] {
  const { deltaVz } = contact.joints.all;
  for (const part of [deltaVz, contact.explained, found])
    if (isUnavailable(part)) return unknownVerdict(MEASURES.manifold, n, part);
  const answer =
    (contact.explained as number) < LIMITS.explainedFrom
      ? 'unexplained'
      : (deltaVz as Estimate).low > 0 && isSteadying(found, LIMITS.alpha)
        ? 'steadied'
        : 'undecided';
  return verdictOf(MEASURES.manifold, n, answer);
}
