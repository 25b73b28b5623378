import { describe, expect, it } from 'vitest';
import {
  type HeadingUncertainty,
  reachError,
  reachVectorOf,
  TILT_SEEN_LIVE,
} from '../../src/core/arm/reach.ts';
import { RAD_PER_DEG } from '../../src/core/maths/angles.ts';
import {
  fromRotationVector,
  multiply,
  type Quaternion,
  quaternion,
  rotate,
} from '../../src/core/maths/quaternion.ts';
import { seededRandom } from '../../src/core/maths/random.ts';
import { dot, norm, type Vector3, vector3 } from '../../src/core/maths/vector.ts';
import { expectClose } from '../maths/close.ts';

const LENGTHS_M = [0.28, 0.25, 0.5] as const;

type Axis = 'x' | 'y' | 'z';
const about = (axis: Axis, degrees: number) => {
  const a = degrees * RAD_PER_DEG;
  return fromRotationVector(
    quaternion(),
    axis === 'x' ? a : 0,
    axis === 'y' ? a : 0,
    axis === 'z' ? a : 0,
  );
};
/** Intrinsic rotations one after the other. */
const intrinsic = (...turns: readonly (readonly [Axis, number])[]) =>
  turns.reduce((q, [axis, degrees]) => multiply(q, q, about(axis, degrees)), quaternion());

const times = (p: Quaternion, q: Quaternion) => multiply(quaternion(), p, q);

/** The 3-D chain of reference.md E: segments along local -Y. */
function chainParts(): [Vector3, Vector3, Vector3] {
  const upper = intrinsic(['y', 30], ['x', 60], ['y', -45]);
  const fore = times(upper, intrinsic(['z', 75], ['x', 0], ['y', 40]));
  const hand = times(fore, intrinsic(['z', -10], ['x', 15], ['y', 0]));
  const part = (q: Quaternion, k: 0 | 1 | 2) => rotate(vector3(), q, vector3(0, -LENGTHS_M[k], 0));
  return [part(upper, 0), part(fore, 1), part(hand, 2)];
}

describe('reachVectorOf', () => {
  it('gives the 3-D chain computed with scipy', () => {
    // reference.md E, "3-D chain", scipy 1.17.1; ten printed digits.
    const parts = chainParts();
    expectClose(parts[0], [-0.1212435565, -0.14, -0.21], 1e-10);
    expectClose(parts[1], [0.1625468981, -0.1802289684, -0.05996686482], 1e-10);
    expectClose(parts[2], [0.2371715437, -0.3630268509, -0.248919996], 1e-10);
    const v = reachVectorOf(vector3(), parts);
    expectClose(v, [0.2784748852, -0.6832558193, -0.5188868608], 2e-10);
    expect(Math.abs(norm(v) - 0.902014606646)).toBeLessThan(1e-12);
  });

  it('chains the orientations of that arm as scipy does', () => {
    // reference.md E, "3-D chain": forearm and implement in space.
    const upper = intrinsic(['y', 30], ['x', 60], ['y', -45]);
    const fore = times(upper, intrinsic(['z', 75], ['x', 0], ['y', 40]));
    const hand = times(fore, intrinsic(['z', -10], ['x', 15], ['y', 0]));
    expectClose(fore, [0.9274900741, 0.1348820737, -0.01483573999, 0.348351675], 1e-10);
    expectClose(hand, [0.9284497686, 0.2590651781, 0.03174709639, 0.2643073639], 1e-10);
  });

  it('has the contributions of that arm: each part along the whole', () => {
    const parts = chainParts();
    const v = reachVectorOf(vector3(), parts);
    const along = parts.map((p) => dot(p, v) / norm(v));
    expectClose(along, [0.1894190723, 0.2211979019, 0.4913976325], 1e-10);
  });

  it('moves when that arm turns as scipy and numpy say', () => {
    // reference.md E: angular velocities in space, then velocity of the tip and dR/dt, and each part's share of it.
    const omega = [vector3(1, 2, -3), vector3(4, -1, 2), vector3(-2, 5, 8)];
    const h = 1e-5;
    const turnedBy = (seconds: number, which = [0, 1, 2]) =>
      chainParts().map((p, k) => {
        const w = omega[k]!.map((x) => (which.includes(k) ? x * seconds : 0));
        return rotate(p, fromRotationVector(quaternion(), w[0]!, w[1]!, w[2]!), p);
      });
    const [ahead, back] = [h, -h].map((s) => reachVectorOf(vector3(), turnedBy(s)));
    const velocity = ahead!.map((x, i) => (x - back![i]!) / (2 * h));
    // central differences: w^3 L h^2 / 6 = 1.5e-8 for the implement at 9.6 rad/s, rounding 1e-11
    expectClose(velocity, [1.240039629, 2.538224282, -0.9156858789], 2e-8);
    expect(Math.abs(Math.hypot(...velocity) - 2.9696399474)).toBeLessThan(2e-8);
    const rate = (which: number[]) => {
      const [far, near] = [h, -h].map((s) => norm(reachVectorOf(vector3(), turnedBy(s, which))));
      return (far! - near!) / (2 * h);
    };
    expectClose([rate([0, 1, 2])], [-1.01306479999], 2e-8);
    expectClose(
      [0, 1, 2].map((k) => rate([k])),
      [-0.7528735496, 0.02305395895, -0.2832452094],
      2e-8,
    );
  });

  it('gives the planar arms of textbooks', () => {
    // reference.md E, "Planar 3R" and "2R" (numpy), and the elbow by the law of cosines.
    const planar = (...parts: readonly (readonly [number, number])[]) =>
      reachVectorOf(
        vector3(),
        parts.map(([length, degrees]) => rotate(vector3(), about('z', degrees), vector3(length))),
      );
    expectClose(planar([4, 10], [3, 30], [2, 60]), [7.537307223, 3.926643518, 0], 1e-9);
    expectClose(planar([1, 0], [1, 45], [0, 0]), [1.707106781, Math.SQRT1_2, 0], 1e-9);
    const bent = norm(planar([0.28, 0], [0.25, 63.8961188627], [0, 0]));
    expect(Math.abs(bent - 0.45)).toBeLessThan(1e-12);
  });

  it('gives the planar arm of ten trials', () => {
    // reference.md C2, numpy: relative joint angles in degrees and the reach of each trial.
    const trials: readonly (readonly [number, number, number, number])[] = [
      [40, 35, 20, 0.9492659499],
      [42.5, 33, 18.5, 0.9590093282],
      [38, 37.5, 22, 0.9358825636],
      [41, 36, 16, 0.9575296425],
      [39.5, 31.5, 24.5, 0.9456923145],
      [43, 34.5, 19, 0.953523828],
      [37, 38, 17.5, 0.9477576112],
      [40.5, 32, 23, 0.948870038],
      [41.5, 35.5, 20.5, 0.9463710862],
      [38.5, 36.5, 18, 0.9506844467],
      [40.15, 34.95, 19.9, 0.9496971469], // the mean configuration
    ];
    for (const [shoulder, elbow, wrist, reach] of trials) {
      const angles = [shoulder, shoulder + elbow, shoulder + elbow + wrist];
      const parts = angles.map((a, k) =>
        rotate(vector3(), about('z', a), vector3(LENGTHS_M[k as 0 | 1 | 2])),
      );
      expect(Math.abs(norm(reachVectorOf(vector3(), parts)) - reach)).toBeLessThan(1e-10);
    }
  });
});

const errorOf = (parts: readonly Vector3[], heading: HeadingUncertainty) => {
  const out = { noiseM: Number.NaN, systematicM: Number.NaN };
  reachError(out, parts, heading, TILT_SEEN_LIVE);
  return out;
};

/** SD of the reach of the 3-D chain when every draw turns its segments by small rotation vectors. */
function monteCarloSd(turnOf: (segment: number, drawn: readonly number[]) => Vector3): number {
  const random = seededRandom(17);
  const parts = chainParts();
  const reference = 0.902014606646;
  let [sum, squares] = [0, 0];
  const turn = quaternion();
  for (let n = 0; n < DRAWS; n++) {
    const drawn = Array.from({ length: 11 }, () => random.normal(1));
    const turned = parts.map((p, k) => {
      const v = turnOf(k, drawn);
      return rotate(vector3(), fromRotationVector(turn, v[0]!, v[1]!, v[2]!), p);
    });
    const d = norm(reachVectorOf(vector3(), turned)) - reference;
    sum += d;
    squares += d * d;
  }
  return Math.sqrt(squares / DRAWS - (sum / DRAWS) ** 2);
}

const DRAWS = 20_000;
/** SE of an SD from 20 000 draws is 0.5 %; second order of errors of 2 degrees stays below 1 %. */
const MONTE_CARLO = 0.025;

describe('reachError', () => {
  // The constants of reach.ts, named there with their reasons.
  const inclination = 0.44 * RAD_PER_DEG;
  const longAxis = 1.1 * RAD_PER_DEG;
  const commonHeading = 0.7 * RAD_PER_DEG;

  it.each([
    ['as the agreement leaves them', { elbowRad: 1 * RAD_PER_DEG, wristRad: 0.7 * RAD_PER_DEG }],
    ['absent', { elbowRad: 0, wristRad: 0 }],
    ['at the elbow only', { elbowRad: 2 * RAD_PER_DEG, wristRad: 0 }],
    ['at the wrist only', { elbowRad: 0, wristRad: 2 * RAD_PER_DEG }],
  ])('gives the noise of a Monte Carlo of small turns, heading errors %s', (_, heading) => {
    const sd = monteCarloSd((k, drawn) =>
      vector3(
        inclination * drawn[2 + 2 * k]!,
        inclination * drawn[3 + 2 * k]!,
        (k >= 1 ? heading.elbowRad * drawn[0]! : 0) + (k === 2 ? heading.wristRad * drawn[1]! : 0),
      ),
    );
    expect(Math.abs(errorOf(chainParts(), heading).noiseM / sd - 1)).toBeLessThan(MONTE_CARLO);
  });

  it('gives the set-wide error of a Monte Carlo of turned long axes and headings', () => {
    const sd = monteCarloSd((k, drawn) =>
      vector3(
        longAxis * drawn[2 + 3 * k]!,
        longAxis * drawn[3 + 3 * k]!,
        longAxis * drawn[4 + 3 * k]! +
          commonHeading * ((k >= 1 ? drawn[0]! : 0) + (k === 2 ? drawn[1]! : 0)),
      ),
    );
    const { systematicM } = errorOf(chainParts(), { elbowRad: 0.1, wristRad: 0.1 });
    expect(Math.abs(systematicM / sd - 1)).toBeLessThan(MONTE_CARLO);
  });

  it('is zero for a straight arm, whose length no small turn changes', () => {
    // Closed form: all parts parallel to the whole, so every p x v is 0 (the second order is what remains).
    const parts = [vector3(0.1, 0.2, 0.2), vector3(0.2, 0.4, 0.4), vector3(0.1, 0.2, 0.2)];
    const { noiseM, systematicM } = errorOf(parts, { elbowRad: 0.1, wristRad: 0.1 });
    expect(noiseM).toBeLessThan(1e-15);
    expect(systematicM).toBeLessThan(1e-15);
  });

  it('knows that turning a hanging forearm about the vertical moves nothing', () => {
    const parts = [vector3(0.28), vector3(0, 0, -0.25), vector3(0, 0, -0.5)];
    const without = errorOf(parts, { elbowRad: 0, wristRad: 0 }).noiseM;
    expect(errorOf(parts, { elbowRad: 0.2, wristRad: 0.2 }).noiseM).toBeCloseTo(without, 15);
  });

  it('knows the levers of the textbook arm: the gradient of its reach by its Jacobian', () => {
    // reference.md E, "Planar 3R": dr/dq = (x J_x + y J_y) / r for joints 2 and 3 of a level arm.
    const parts = [
      rotate(vector3(), about('z', 10), vector3(4)),
      rotate(vector3(), about('z', 30), vector3(3)),
      rotate(vector3(), about('z', 60), vector3(2)),
    ];
    const [x, y] = [7.537307223, 3.926643518];
    const gradient = [
      [-3.232050808, 3.598076211],
      [-1.732050808, 1],
    ].map(([jx, jy]) => Math.abs(x * jx! + y * jy!) / Math.hypot(x, y));
    const elbow = errorOf(parts, { elbowRad: 0.01, wristRad: 0 }).noiseM;
    const wrist = errorOf(parts, { elbowRad: 0, wristRad: 0.01 }).noiseM;
    expectClose([elbow / 0.01, wrist / 0.01], gradient, 2e-9);
  });

  it('knows the joint levers of the planar arm of reference.md C2', () => {
    // numpy: J_reach = [0, -0.1627581628, -0.1653349291] at the mean configuration of ten trials.
    const angles = [40.15, 75.1, 95];
    const parts = angles.map((a, k) =>
      rotate(vector3(), about('z', a), vector3(LENGTHS_M[k as 0 | 1 | 2])),
    );
    const elbow = errorOf(parts, { elbowRad: 0.01, wristRad: 0 }).noiseM;
    const wrist = errorOf(parts, { elbowRad: 0, wristRad: 0.01 }).noiseM;
    expectClose([elbow / 0.01, wrist / 0.01], [0.1627581628, 0.1653349291], 1e-10);
  });

  it('knows the lever of a heading error at the elbow', () => {
    // Closed form, all level: upper arm along x, forearm and implement along y. |v| = hypot(.28, .75); turning the
    // .75 m about the vertical changes it by .28 x .75/|v| per radian. Inclination changes no length of level parts.
    const parts = [vector3(0.28), vector3(0, 0.25), vector3(0, 0.5)];
    const lever = (0.28 * 0.75) / Math.hypot(0.28, 0.75);
    expect(errorOf(parts, { elbowRad: 0.01, wristRad: 0 }).noiseM).toBeCloseTo(0.01 * lever, 15);
  });
});
