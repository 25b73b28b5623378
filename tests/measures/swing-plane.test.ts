import { describe, expect, it } from 'vitest';
import { jointAngles, segmentAngles } from '../../src/core/measures/segment-angles.ts';
import { fitSwingPlane } from '../../src/core/measures/swing-plane.ts';
import { isUnavailable } from '../../src/core/statistics/estimate.ts';
import { type DirectionsAt, swingFromDirections } from './swing-from-directions.ts';

const TILT = 0.5;

/** Angles of the three segments over the swing, rad, in a plane tilted about the target's direction. */
const ANGLES = [
  (share: number) => 0.2 + 0.6 * share,
  (share: number) => 0.5 + 1.1 * share,
  (share: number) => 0.1 + 2.4 * share,
] as const;

const inTiltedPlane: DirectionsAt = (share) =>
  ANGLES.map((angle) => {
    const a = angle(share);
    return [Math.cos(a), Math.sin(a) * Math.cos(TILT), Math.sin(a) * Math.sin(TILT)] as const;
  });

describe('fitSwingPlane', () => {
  it('finds the plane of an arm that moves in one, and its angles', () => {
    const swing = swingFromDirections(inTiltedPlane);
    const plane = fitSwingPlane([swing, swing]);
    if (isUnavailable(plane)) throw new Error(plane.reason);
    expect(plane.residualM).toBeLessThan(1e-9);
    const normal = [0, -Math.sin(TILT), Math.cos(TILT)];
    const along = normal.reduce((sum, x, i) => sum + x * plane.normal[i]!, 0);
    // anticlockwise about the normal: the angles above grow
    expect(along).toBeCloseTo(1, 9);
    const angles = segmentAngles(swing, plane);
    for (let k = 0; k < 3; k++) {
      for (const point of [0, 37, 100]) {
        const turned = angles.inPlaneRad[3 * point + k]! - angles.inPlaneRad[300 + k]!;
        expect(turned).toBeCloseTo(ANGLES[k]!(point / 100) - ANGLES[k]!(1), 9);
        expect(Math.abs(angles.outOfPlaneRad[3 * point + k]!)).toBeLessThan(1e-9);
      }
    }
    const { elbowRad, wristRad } = jointAngles(angles);
    expect(elbowRad[100]! - elbowRad[0]!).toBeCloseTo(0.5, 9);
    expect(wristRad[100]! - wristRad[0]!).toBeCloseTo(1.3, 9);
  });

  it('has no plane without swings', () => {
    expect(fitSwingPlane([])).toEqual({ reason: 'too-few', need: 1, have: 0 });
  });
});
