import { type CircularSummary, circularSummary, couplingAngle } from '../statistics/circular.ts';
import { type Correlation, correlation } from '../statistics/correlation.ts';
import { CONFIDENCE, isUnavailable, type Unavailable } from '../statistics/estimate.ts';
import { partialCorrelation } from '../statistics/partial-correlation.ts';
import { SWING_POINTS } from '../swings/swing.ts';
import { type AngleColumns, type ArmAngles, varies } from './arm-angles.ts';
import { BINS } from './binned-covariance.ts';
import type { SwingTiming } from './swing-timing.ts';
import { MEASURES } from './thresholds.ts';

/** Correlations over swings at each of the 101 points. */
export type CorrelationCurve = readonly (Correlation | Unavailable)[];

/** Do segments and joints vary together from swing to swing? */
export interface Coupling {
  readonly n: number;
  /**
   * Segments in space. A turn of the whole arm turns both alike: it makes the correlation positive, up to 1
   * for a stiff joint, without any coupling.
   */
  readonly upperArmForearm: CorrelationCurve;
  readonly forearmImplement: CorrelationCurve;
  /** With the joint instead of the distal segment; of this, segments independent in space make a negative one. */
  readonly upperArmElbow: CorrelationCurve;
  readonly forearmWrist: CorrelationCurve;
  /** Two joints, neither of which a turn of the whole arm touches. */
  readonly elbowWrist: CorrelationCurve;
  readonly atContact: ContactCoupling;
  /** How the mean movement is shared, by tenths of the swing: coupling angles of all swings. */
  readonly stepUpperArmForearm: readonly (CircularSummary | Unavailable)[];
  readonly stepForearmImplement: readonly (CircularSummary | Unavailable)[];
}

/**
 * Upper arm and forearm at contact, against the three things that look like coupling and are none; intervals at
 * the verdict's own level. A turn of the whole arm under an upper arm that also varies by itself passes all three:
 * two angles cannot tell it from coupling.
 */
export interface ContactCoupling {
  /** 0 when the two segments vary independently in space. */
  readonly inSpace: Correlation | Unavailable;
  /** Upper arm and elbow: 0 when the arm turns as a whole and the elbow varies independently of it. */
  readonly withElbow: Correlation | Unavailable;
  /**
   * As in space, what goes with the timing taken out: a ball met early or late on one and the same course moves
   * both segments.
   */
  readonly withoutTiming: Correlation | Unavailable;
}

const CONTACT = SWING_POINTS - 1;
const { limits: LIMITS } = MEASURES.coupling;

/**
 * Across-swing coupling of the segments through the swing, with Fisher's intervals.
 * @param angles of at least ten swings @param timing fitted to the same swings
 * @returns 'no-spread' at a point where an angle does not vary
 * Source: design.md section 9; coupling angle: see couplingAngle.
 * Checked: tests/measures/coupling.test.ts, tests/measures/arm-operating.test.ts
 */
export function coupling(angles: ArmAngles, timing: SwingTiming): Coupling | Unavailable {
  const { n, upperArm, forearm, implement, elbow, wrist } = angles;
  if (n < LIMITS.minimumN) return { reason: 'too-few', need: LIMITS.minimumN, have: n };
  return {
    n,
    upperArmForearm: curve(upperArm, forearm),
    forearmImplement: curve(forearm, implement),
    upperArmElbow: curve(upperArm, elbow),
    forearmWrist: curve(forearm, wrist),
    elbowWrist: curve(elbow, wrist),
    atContact: contactCoupling(angles, timing),
    stepUpperArmForearm: couplingAngles(upperArm, forearm),
    stepForearmImplement: couplingAngles(forearm, implement),
  };
}

/**
 * What the verdict on coupling asks for. @param angles of at least ten swings @param timing fitted to the same swings
 * Source: see partialCorrelation.  Checked: tests/measures/arm-operating.test.ts
 */
export function contactCoupling(angles: ArmAngles, timing: SwingTiming): ContactCoupling {
  const [upperArm, forearm, elbow] = [angles.upperArm, angles.forearm, angles.elbow].map(
    (angle) => angle[CONTACT]!,
  ) as [Float64Array, Float64Array, Float64Array];
  return {
    inSpace: correlate(upperArm, forearm, LIMITS.verdictLevel),
    withElbow: correlate(upperArm, elbow, LIMITS.verdictLevel),
    withoutTiming: withoutTiming(upperArm, forearm, timing),
  };
}

function curve(x: AngleColumns, y: AngleColumns): CorrelationCurve {
  return x.map((column, point) => correlate(column, y[point]!));
}

function correlate(
  x: Float64Array,
  y: Float64Array,
  level = CONFIDENCE,
): Correlation | Unavailable {
  return varies(x) && varies(y) ? correlation(x, y, level) : { reason: 'no-spread' };
}

/** Upper arm and forearm at contact, what goes with the timing of the swing taken out. */
function withoutTiming(
  upperArm: Float64Array,
  forearm: Float64Array,
  timing: SwingTiming,
): Correlation | Unavailable {
  if (!varies(upperArm) || !varies(forearm)) return { reason: 'no-spread' };
  return partialCorrelation(upperArm, forearm, timing.shift, LIMITS.verdictLevel);
}

function couplingAngles(
  proximal: AngleColumns,
  distal: AngleColumns,
): (CircularSummary | Unavailable)[] {
  const width = CONTACT / BINS;
  return Array.from({ length: BINS }, (_, bin) => {
    const step = (angle: AngleColumns, i: number) =>
      angle[(bin + 1) * width]![i]! - angle[bin * width]![i]!;
    const angles = Array.from(proximal[0]!, (_, i) =>
      couplingAngle(step(proximal, i), step(distal, i)),
    );
    const still = angles.find((angle) => isUnavailable(angle));
    return still ?? circularSummary(angles as number[]);
  });
}
