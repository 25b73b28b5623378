import { RAD_PER_DEG } from '../maths/angles.ts';
import { axisAngle, crossedAxesTest } from '../statistics/axis-angle.ts';
import type { BootstrapOptions } from '../statistics/bootstrap-interval.ts';
import {
  type CovarianceEllipse,
  covarianceEllipse,
  type EllipseSize,
  predictionEllipse,
} from '../statistics/covariance-ellipse.ts';
import { type Estimate, isUnavailable, type Unavailable } from '../statistics/estimate.ts';
import { hedgesG } from '../statistics/hedges-g.ts';
import { variedMean } from '../statistics/mean-interval.ts';
import { checkedMean } from '../statistics/moments.ts';
import type { PermutationResult } from '../statistics/permutation-test.ts';
import { takeRows } from '../statistics/resampling.ts';
import type { AccuracyClass, AccuracyClasses } from './accuracy-classes.ts';
import type { ArmAngles } from './arm-angles.ts';
import { jointElements } from './manifold-through-swing.ts';
import type { MeasuredSwing } from './measured-swing.ts';
import { contactReach } from './reach-at-contact.ts';
import { jointGradient, meanArm } from './reach-gradient.ts';
import { MEASURES } from './thresholds.ts';
import { compareOnManifold, type ManifoldContrast } from './uncontrolled-manifold.ts';
import { unknownVerdict, type Verdict, verdictOf } from './verdict.ts';

type PerClass<T> = Readonly<Record<AccuracyClass, T>>;

/** Where the balls of one class lie in a plane of two angles. */
export interface ClassEllipse {
  readonly ellipse: CovarianceEllipse;
  /** Holds the next ball of the class with 95 %. */
  readonly size: EllipseSize;
}

type ClassEllipses = PerClass<ClassEllipse | Unavailable>;

/** Directions in which two angles vary at contact, by class. */
export interface AnglePlane {
  readonly ellipses: ClassEllipses;
  /** Direction of the manifold, radians in (-pi/2, pi/2] from the first angle's axis. */
  readonly manifoldRad: number;
  /** Angles between axes, radians in [0, pi/2]. */
  readonly accurateToPoor: Estimate | Unavailable;
  readonly accurateToManifold: Estimate | Unavailable;
  readonly poorToManifold: Estimate | Unavailable;
  /** Do the two classes spread across each other? */
  readonly crossed: PermutationResult | Unavailable;
}

/** Accurate and poor balls, apart. */
export interface AccuracySplit {
  /** Scored swings. */
  readonly n: number;
  readonly counts: PerClass<number>;
  /** Reach at contact, metres. */
  readonly meanReachM: PerClass<Estimate | Unavailable>;
  /** Hedges' g of reach at contact, accurate less poor. */
  readonly reachDifference: Estimate | Unavailable;
  /** Elbow across, wrist up; null when there are no angles, with the reason in the verdict. */
  readonly elbowWrist: AnglePlane | null;
  /** Segments in space, the first across and the second up. A turn of the whole arm draws them along the diagonal. */
  readonly segments: {
    readonly upperArmForearm: ClassEllipses;
    readonly forearmImplement: ClassEllipses;
  } | null;
  /** SD along and across the manifold of elbow and wrist, accurate over poor. */
  readonly spread: ManifoldContrast | null;
  readonly verdict: Verdict<'crossed' | 'crossedByScore' | 'undecided'>;
}

const { limits: LIMITS } = MEASURES.accuracySplit;
const CONTACT = 100;
const COVERAGE = 0.95;

/**
 * Splits a set by accuracy. Where the score depends on reach, accurate balls are those near one reach: they lie
 * along the manifold and poor ones to either side of it, even for a player whose arm varies alike on all balls.
 * That accurate balls also spread wider along the manifold is more than such a selection can do; the verdict
 * tells the two apart.
 * @param swings scored or not @param angles, classes of these swings; ten accurate and ten poor
 * @returns the same for the same swings, seed and number of resamples
 * Source: design.md section 9.
 * Checked: tests/measures/accuracy-split.test.ts; tests/measures/accuracy-split-operating.test.ts
 */
export function accuracySplit(
  swings: readonly MeasuredSwing[],
  angles: ArmAngles | Unavailable,
  classes: AccuracyClasses,
  options: BootstrapOptions,
): AccuracySplit {
  const { rows } = classes;
  const reach = contactReach(swings);
  const reachOf = (name: AccuracyClass) => takeRows(reach, rows[name]);
  const base = {
    n: classes.scored.length,
    counts: perClass((name) => rows[name].length),
    meanReachM: perClass((name) => variedMean(reachOf(name))),
    reachDifference: hedgesG(reachOf('accurate'), reachOf('poor')),
  };
  const none = (why: Unavailable) =>
    ({
      ...base,
      elbowWrist: null,
      segments: null,
      spread: null,
      verdict: unknown(base.n, why),
    }) as const;
  if (isUnavailable(angles)) return none(angles);
  const arm = meanArm(swings, angles.plane.normal, CONTACT);
  if (isUnavailable(arm)) return none(arm);
  const joints = jointElements(angles, arm, CONTACT);
  const [byElbow, byWrist] = jointGradient(arm, joints.columns.map(checkedMean));
  if (byElbow === 0 && byWrist === 0) return none({ reason: 'no-direction' });
  const elbowWrist = anglePlane(
    angles.elbow[CONTACT]!,
    angles.wrist[CONTACT]!,
    Math.atan(-byElbow / byWrist),
    classes,
    options,
  );
  const [upperArm, forearm, implement] = [angles.upperArm, angles.forearm, angles.implement].map(
    (angle) => angle[CONTACT]!,
  ) as [Float64Array, Float64Array, Float64Array];
  const segments = {
    upperArmForearm: ellipsesOf(upperArm, forearm, classes),
    forearmImplement: ellipsesOf(forearm, implement, classes),
  };
  const spread = compareOnManifold(joints, rows.accurate, rows.poor);
  return { ...base, elbowWrist, segments, spread, verdict: judge(base.n, elbowWrist, spread) };
}

/** Ellipses and axes of two angles by class. @param manifoldRad direction that leaves reach unchanged */
function anglePlane(
  x: Float64Array,
  y: Float64Array,
  manifoldRad: number,
  classes: AccuracyClasses,
  options: BootstrapOptions,
): AnglePlane {
  const { rows } = classes;
  const pointsOf = (...names: AccuracyClass[]) => {
    const all = Int32Array.from(names.flatMap((name) => [...rows[name]]));
    return { x: takeRows(x, all), y: takeRows(y, all) };
  };
  const { accurate, poor } = rows;
  const both = pointsOf('accurate', 'poor');
  const sizes = [accurate.length, poor.length] as const;
  const toManifold = (name: 'accurate' | 'poor') =>
    axisAngle(pointsOf(name), [rows[name].length], options, manifoldRad);
  return {
    ellipses: ellipsesOf(x, y, classes),
    manifoldRad,
    accurateToPoor: axisAngle(both, sizes, options),
    accurateToManifold: toManifold('accurate'),
    poorToManifold: toManifold('poor'),
    crossed: crossedAxesTest(both, sizes, { seed: options.seed, draws: options.resamples ?? 1999 }),
  };
}

function ellipsesOf(x: Float64Array, y: Float64Array, { rows }: AccuracyClasses): ClassEllipses {
  return perClass((name) => {
    const ellipse = covarianceEllipse(takeRows(x, rows[name]), takeRows(y, rows[name]));
    if (isUnavailable(ellipse)) return ellipse;
    return { ellipse, size: predictionEllipse(ellipse, COVERAGE) };
  });
}

function perClass<T>(of: (name: AccuracyClass) => T): PerClass<T> {
  return { accurate: of('accurate'), fair: of('fair'), poor: of('poor') };
}

function judge(
  n: number,
  { accurateToPoor, accurateToManifold, crossed }: AnglePlane,
  { along }: ManifoldContrast,
): AccuracySplit['verdict'] {
  if (isUnavailable(crossed)) return unknown(n, crossed);
  if (isUnavailable(accurateToPoor)) return unknown(n, accurateToPoor);
  if (isUnavailable(accurateToManifold)) return unknown(n, accurateToManifold);
  const isCrossed =
    crossed.p <= LIMITS.alpha &&
    accurateToPoor.value > LIMITS.crossedFromDeg * RAD_PER_DEG &&
    accurateToManifold.value < LIMITS.crossedFromDeg * RAD_PER_DEG;
  const widerAlong = !isUnavailable(along) && along.low > 1;
  const answer = isCrossed ? (widerAlong ? 'crossed' : 'crossedByScore') : 'undecided';
  return verdictOf(MEASURES.accuracySplit, n, answer);
}

function unknown(n: number, why: Unavailable): Verdict<never> {
  return unknownVerdict(MEASURES.accuracySplit, n, why);
}
