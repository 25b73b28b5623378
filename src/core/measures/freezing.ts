import { angleBetween } from '../maths/vector.ts';
import type { Estimate, Unavailable } from '../statistics/estimate.ts';
import { meanInterval } from '../statistics/mean-interval.ts';
import { SWING_POINTS } from '../swings/swing.ts';
import type { ArmAngles } from './arm-angles.ts';
import type { MeasuredSwing } from './measured-swing.ts';
import { MEASURES } from './thresholds.ts';

/** How far elbow and wrist move in a swing, mean over swings with Student's interval. */
export interface Freezing {
  readonly n: number;
  /** Range of the angle between upper arm and forearm in space, radians: the elbow is a hinge. */
  readonly elbowExcursionRad: Estimate | Unavailable;
  /** Range of the wrist's angle in the swing plane, radians: it passes through straight, so it needs a sign. */
  readonly wristExcursionRad: Estimate | Unavailable;
}

const { limits: LIMITS } = MEASURES.freezing;

/**
 * Excursion (largest less smallest angle, start to contact) of elbow and wrist.
 * @param swings at least ten @param angles of these swings
 * Source: design.md section 9.  Checked: tests/measures/freezing.test.ts, tests/measures/arm-operating.test.ts
 */
export function freezing(
  swings: readonly MeasuredSwing[],
  angles: ArmAngles,
): Freezing | Unavailable {
  const n = swings.length;
  if (n < LIMITS.minimumN) return { reason: 'too-few', need: LIMITS.minimumN, have: n };
  const elbows = swings.map(({ directions }) => range((point) => elbowAngle(directions, point)));
  const wrists = swings.map((_, i) => range((point) => angles.wrist[point]![i]!));
  return { n, elbowExcursionRad: meanInterval(elbows), wristExcursionRad: meanInterval(wrists) };
}

function range(angleRad: (point: number) => number): number {
  let low = Infinity;
  let high = -Infinity;
  for (let point = 0; point < SWING_POINTS; point++) {
    const angle = angleRad(point);
    low = Math.min(low, angle);
    high = Math.max(high, angle);
  }
  return high - low;
}

function elbowAngle(directions: Float64Array, point: number): number {
  return angleBetween(
    directions.subarray(9 * point, 9 * point + 3),
    directions.subarray(9 * point + 3, 9 * point + 6),
  );
}
