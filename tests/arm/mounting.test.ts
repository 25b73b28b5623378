import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  largestTurn,
  type Mounting,
  mountingFromPlumb,
  mountingFromPoint,
} from '../../src/core/arm/mounting.ts';
import { RAD_PER_DEG, STANDARD_GRAVITY } from '../../src/core/maths/angles.ts';
import {
  normaliseQuaternion,
  type Quaternion,
  quaternion,
  quaternionAngle,
  rotateInverse,
} from '../../src/core/maths/quaternion.ts';
import { type Vector3, vector3 } from '../../src/core/maths/vector.ts';
import { expectClose } from '../maths/close.ts';

const part = fc.double({ min: -1, max: 1, noNaN: true });
const mountings = fc
  .tuple(part, part, part, part)
  .filter((c) => Math.hypot(...c) > 0.1)
  .map((c) => normaliseQuaternion(Float64Array.from(c)));
const threeMountings = fc.tuple(mountings, mountings, mountings);

/** Specific force that sensors feel when "up" points this way in their segment's frame. */
const felt = (qSegmentFromSensor: readonly Quaternion[], up: readonly Vector3[]) =>
  qSegmentFromSensor.map((q, k) =>
    rotateInverse(
      vector3(),
      q,
      up[k]!.map((x) => x * STANDARD_GRAVITY),
    ),
  );

/** Up in the segment frame: hanging, x points down; pointing level, z is up; dipped by an angle, x goes down by it. */
const HANGING = vector3(-1, 0, 0);
const pointing = (dipDeg: number) =>
  vector3(-Math.sin(dipDeg * RAD_PER_DEG), 0, Math.cos(dipDeg * RAD_PER_DEG));

function pose(q: readonly Quaternion[], dipsDeg: readonly [number, number, number]) {
  const plumb = mountingFromPlumb(felt(q, [HANGING, HANGING, HANGING]));
  return mountingFromPoint(plumb, felt(q, dipsDeg.map(pointing)));
}

describe('mounting from the two poses', () => {
  it('finds the long axes from the plumb pose alone', () => {
    fc.assert(
      fc.property(threeMountings, (q) => {
        const { longAxis, qSegmentFromSensor } = mountingFromPlumb(
          felt(q, [HANGING, HANGING, HANGING]),
        );
        expect(qSegmentFromSensor).toBeNull();
        q.forEach((qk, k) => {
          expectClose(longAxis[k]!, rotateInverse(vector3(), qk, vector3(1)), 1e-14);
        });
      }),
    );
  });

  it('recovers any mounting of the three sensors', () => {
    fc.assert(
      fc.property(threeMountings, (q) => {
        const result = pose(q, [0, 0, 0]);
        if (!result.ok) expect.fail(result.problem);
        q.forEach((qk, k) => {
          // a handful of roundings in unit vectors
          const found = (result.mounting as Mounting).qSegmentFromSensor![k]!;
          expect(quaternionAngle(found, qk)).toBeLessThan(1e-14);
        });
      }),
    );
  });

  it('recovers the mounting also from an arm that dips within the tolerance', () => {
    // A dip keeps gravity in the plane of x and z: nothing is lost.
    fc.assert(
      fc.property(threeMountings, (q) => {
        const result = pose(q, [14, 3, 9]);
        if (!result.ok) expect.fail(result.problem);
        q.forEach((qk, k) => {
          const found = (result.mounting as Mounting).qSegmentFromSensor![k]!;
          expect(quaternionAngle(found, qk)).toBeLessThan(1e-14);
        });
      }),
    );
  });

  it.each([
    [[25, 0, 0], 'upper arm 25° below level'],
    [[0, 25, 0], 'forearm 25° below level'],
    [[0, 0, -25], 'implement 25° above level'],
    [[0, 16, -40], 'forearm 16° below level, implement 40° above level'],
  ] as const)('names what is off when the dips are %o degrees', (dips, words) => {
    const q = [quaternion(0.5, 0.5, 0.5, 0.5), quaternion(), quaternion(0, 1, 0, 0)];
    const result = pose(q, [...dips]);
    if (result.ok) expect.fail('the pose was taken');
    expect(result.problem).toBe(`${words}. Hold arm and implement level at the target.`);
  });

  it.each([
    // against the mean of the two others: 13 - (0 - 2) / 2
    [[13, 0, -2], 'upper arm 14° below'],
    [[5, -10, 5], 'forearm 15° above'],
    [[-6, -6, 8], 'implement 14° below'],
  ] as const)('names the segment out of line when the dips are %o degrees', (dips, words) => {
    const q = [quaternion(0.5, 0.5, 0.5, 0.5), quaternion(), quaternion(0, 1, 0, 0)];
    const result = pose(q, [...dips]);
    if (result.ok) expect.fail('the pose was taken');
    expect(result.problem).toMatch(new RegExp(`^${words} the rest of the arm\\. .*hang once more`));
  });

  it('takes an arm that dips alike all along', () => {
    expect(pose([quaternion(), quaternion(), quaternion()], [-12, -12, -12]).ok).toBe(true);
  });

  it('refuses a reading without gravity', () => {
    expect(() => mountingFromPlumb([vector3(), vector3(1), vector3(1)])).toThrow(RangeError);
  });
});

describe('largestTurn', () => {
  it('is the angle of the sensor that turned most', () => {
    const before = [vector3(1), vector3(0, 2, 0), vector3(0, 0, 3)];
    const after = [vector3(5), vector3(1, 1, 0), vector3(0, 1, 1)];
    expect(largestTurn(before, after)).toBeCloseTo(Math.PI / 4, 15);
    expect(largestTurn(before, [vector3(-1), after[1]!, after[2]!])).toBeCloseTo(Math.PI, 15);
  });
});
