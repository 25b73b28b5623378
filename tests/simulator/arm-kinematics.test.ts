import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { RAD_PER_DEG } from '../../src/core/maths/angles.ts';
import { quaternion } from '../../src/core/maths/quaternion.ts';
import { norm, vector3 } from '../../src/core/maths/vector.ts';
import {
  ARM_CHANNELS,
  pointOnSegment,
  reachOf,
  reachVector,
  segmentOrientation,
} from '../../src/core/simulator/arm-kinematics.ts';
import { expectClose } from '../maths/close.ts';

interface ArmCase {
  readonly angles: number[];
  readonly lengths: number[];
  readonly shoulder: number[];
  readonly offset: number[];
  readonly q: number[][];
  readonly reachVector: number[];
  readonly pointOnImplement: number[];
}

// scipy 1.17.1 by tests/golden/make-rotations.py, seed inside the file.
const { arms } = JSON.parse(
  readFileSync(new URL('../golden/rotations.json', import.meta.url), 'utf8'),
) as { readonly arms: readonly ArmCase[] };

/** A handful of roundings of numbers near 1. */
const ROUNDING = 4e-15;
/** Ten printed digits. */
const PRINTED_10 = 6e-10;

/** Channels of an arm that only turns in the horizontal plane, degrees from the x axis; shoulder at the origin. */
const planar = (...degrees: readonly [number, number, number]) =>
  Float64Array.from({ length: ARM_CHANNELS }, (_, i) =>
    i < 9 && i % 3 === 0 ? degrees[i / 3]! * RAD_PER_DEG : 0,
  );
const canonical = (q: Float64Array) => (q[0]! < 0 ? q.map((x) => -x) : q);

describe('the simulated arm', () => {
  it.each(arms.map((arm, i) => [i, arm] as const))('agrees with scipy, case %i', (_, arm) => {
    const channels = Float64Array.of(...arm.angles, ...arm.shoulder);
    arm.q.forEach((q, k) => {
      expectClose(canonical(segmentOrientation(quaternion(), channels, k)), q, ROUNDING);
    });
    expectClose(reachVector(vector3(), channels, arm.lengths), arm.reachVector, ROUNDING);
    const offset = Float64Array.from(arm.offset);
    const point = pointOnSegment(vector3(), channels, arm.lengths, 2, offset);
    expectClose(point, arm.pointOnImplement, ROUNDING);
  });

  it('turns by the z-y-x angles that scipy finds in given quaternions', () => {
    // reference.md E, scipy 1.17.1: ZYX of (.9,.1,.2,.3) normalised; extrinsic xyz of r is ZYX backwards.
    const zyx = (turn: number, dip: number, twist: number) => {
      const channels = new Float64Array(ARM_CHANNELS);
      channels.set([turn, dip, twist].map((degrees) => degrees * RAD_PER_DEG));
      return segmentOrientation(quaternion(), channels, 0);
    };
    expectClose(
      zyx(40.04972777, 18.40848017, 19.44003483),
      [0.9233805169, 0.1025978352, 0.2051956704, 0.3077935056],
      PRINTED_10,
    );
    expectClose(
      zyx(-37.8111325, 2.714954966, 48.66343551),
      [0.8586164364, 0.3966766701, -0.1130389983, -0.3043807145],
      PRINTED_10,
    );
  });

  it('reaches as the planar arms of textbooks do', () => {
    // reference.md E, "Planar 3R" (numpy): L = 4, 3, 2, joints at 10, 20, 30 deg; 2R: L = 1, 1, joints at 0, 45 deg.
    const three = reachVector(vector3(), planar(10, 30, 60), [4, 3, 2]);
    expectClose(three, [7.537307223, 3.926643518, 0], 10 * PRINTED_10);
    const two = reachVector(vector3(), planar(0, 45, 0), [1, 1, 0]);
    expectClose(two, [1.707106781, Math.SQRT1_2, 0], PRINTED_10);
  });

  it('bends its elbow by the law of cosines', () => {
    // reference.md E: sides .28 and .25 m span .45 m at a flexion of 63.8961188627 deg.
    const reach = reachOf(planar(0, 63.8961188627, 0), [0.28, 0.25, 0]);
    expect(Math.abs(reach - 0.45)).toBeLessThan(1e-12);
  });

  it('moves its tip by the Jacobian of the textbook’s planar arm', () => {
    // reference.md E, "Planar 3R", columns for joints 1, 2, 3; a joint turns everything beyond it.
    const jacobian = [
      [-3.926643518, 7.537307223],
      [-3.232050808, 3.598076211],
      [-1.732050808, 1],
    ];
    const h = 1e-5;
    const tip = (joint: number, by: number) => {
      const channels = planar(10, 30, 60);
      for (let k = joint; k < 3; k++) channels[3 * k] = channels[3 * k]! + by;
      return reachVector(vector3(), channels, [4, 3, 2]);
    };
    jacobian.forEach((column, joint) => {
      const [ahead, back] = [tip(joint, h), tip(joint, -h)];
      const slope = ahead.map((value, i) => (value - back[i]!) / (2 * h));
      // central differences: third derivative 8 h^2 / 6, rounding 1e-15 / h
      expectClose(slope, [...column, 0], 1.5e-9);
      const ofReach = (norm(ahead) - norm(back)) / (2 * h);
      const [x, y] = [7.537307223, 3.926643518];
      const expected = (x * column[0]! + y * column[1]!) / Math.hypot(x, y);
      expect(Math.abs(ofReach - expected)).toBeLessThan(1.5e-9);
    });
  });
});
