import {
  BEFORE_CONTACT_ROWS,
  BEFORE_CONTACT_STEP_S,
  type MeasuredSwing,
} from '../../src/core/measures/measured-swing.ts';

/** A direction of each segment at a share of the swing (0 start, 1 contact), three unit vectors. */
export type DirectionsAt = (share: number) => readonly (readonly [number, number, number])[];

/** A measured swing by forward kinematics alone, reach = |sum of length times direction|. */
export function swingFromDirections(
  directionsAt: DirectionsAt,
  rest: Partial<MeasuredSwing> = {},
): MeasuredSwing {
  const lengthsM = rest.lengthsM ?? [0.25, 0.2, 0.55];
  const durationS = rest.durationS ?? 0.3;
  const tip = (share: number) =>
    [0, 1, 2].map((i) =>
      directionsAt(share).reduce((sum, d, k) => sum + lengthsM[k]! * d[i]!, 0),
    ) as [number, number, number];
  const reach = (share: number) => Math.hypot(...tip(share));
  const [now, before] = [tip(1), tip(1 - 1e-4)];
  return {
    reachCurveM: Float64Array.from({ length: 101 }, (_, i) => reach(i / 100)),
    reachCurveNoiseM: new Float64Array(101).fill(0.002),
    reachBeforeContactM: Float64Array.from({ length: BEFORE_CONTACT_ROWS }, (_, i) => {
      const share = 1 - ((BEFORE_CONTACT_ROWS - 1 - i) * BEFORE_CONTACT_STEP_S) / durationS;
      return share < 0 ? Number.NaN : reach(share);
    }),
    directions: Float64Array.from(
      Array.from({ length: 101 }, (_, i) => directionsAt(i / 100).flat()).flat(),
    ),
    lengthsM,
    courtHeadingKnown: true,
    durationS,
    contactSpeedMS: Math.hypot(...now.map((x, i) => (x - before[i]!) / (1e-4 * durationS))),
    points: null,
    landingM: null,
    ...rest,
  };
}

/** Unit vector in the x-y plane of the court, rad anticlockwise from the target's direction. */
export function level(angleRad: number): [number, number, number] {
  return [Math.cos(angleRad), Math.sin(angleRad), 0];
}
