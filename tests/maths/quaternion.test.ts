import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { RAD_PER_DEG } from '../../src/core/maths/angles.ts';
import {
  conjugate,
  fromAxes,
  fromRotationVector,
  multiply,
  normaliseQuaternion,
  quaternion,
  quaternionAngle,
  renormalise,
  rotate,
  rotateByRow,
  rotateInverse,
  slerp,
  slerpRows,
  toRotationVector,
} from '../../src/core/maths/quaternion.ts';
import { vector3 } from '../../src/core/maths/vector.ts';
import { expectClose } from './close.ts';

interface RotationCase {
  readonly p: number[];
  readonly q: number[];
  readonly product: number[];
  readonly rotationVectorP: number[];
  readonly matrixP: number[][];
  readonly angle: number;
  readonly t: number;
  readonly slerp: number[];
  readonly v: number[];
  readonly rotated: number[];
}

interface ExtremeCase {
  readonly rotationVector: number[];
  readonly q: number[];
  readonly matrix: number[][];
}

// scipy 1.17.1 by tests/golden/make-rotations.py, seed inside the file.
const golden = JSON.parse(
  readFileSync(new URL('../golden/rotations.json', import.meta.url), 'utf8'),
) as { readonly cases: readonly RotationCase[]; readonly extremes: readonly ExtremeCase[] };

/** Ten printed digits. */
const PRINTED_10 = 6e-10;
/** Eight printed digits. */
const PRINTED_8 = 6e-9;
/** A handful of roundings of numbers near 1. */
const ROUNDING = 1e-14;

const q4 = (values: readonly number[]) => Float64Array.from(values);
/** q and -q are one rotation: the one with w >= 0. */
const canonical = (q: Float64Array) => (q[0]! < 0 ? q.map((x) => -x) : q);

// reference.md E, "Quaternions": computed there with scipy 1.17.1 from the intrinsic Euler angles named beside.
const r = q4([0.8586164364, 0.3966766701, -0.1130389983, -0.3043807145]); // YXY(30, 60, -45 deg)
const r2 = q4([0.7291683561, -0.1556974566, 0.3105859404, 0.5895830595]); // ZXY(75, 8, 40 deg)

const components = fc.double({ min: -1, max: 1, noNaN: true });
const rotations = fc
  .tuple(components, components, components, components)
  .filter((c) => Math.hypot(...c) > 0.1)
  .map((c) => normaliseQuaternion(q4(c)));

describe('multiply', () => {
  it('gives the Hamilton product of (1,2,3,4) and (5,6,7,8)', () => {
    // Closed form, whole numbers, so exact.
    const product = multiply(quaternion(), q4([1, 2, 3, 4]), q4([5, 6, 7, 8]));
    expect([...product]).toEqual([-60, 12, 30, 24]);
  });

  it('follows ij = k and ji = -k', () => {
    const i = quaternion(0, 1, 0, 0);
    const j = quaternion(0, 0, 1, 0);
    expectClose(multiply(quaternion(), i, j), [0, 0, 0, 1], 0);
    expectClose(multiply(quaternion(), j, i), [0, 0, 0, -1], 0);
  });

  it('agrees with scipy on two rotations from Euler angles', () => {
    const product = multiply(quaternion(), r, r2);
    expectClose(
      product,
      [0.9024035206, 0.1834501721, -0.002232808962, 0.3898832324],
      3 * PRINTED_10, // both factors are printed to ten digits
    );
  });

  it('may write into either factor', () => {
    const [p, q] = [golden.cases[0]!.p, golden.cases[0]!.q];
    const left = q4(p);
    const right = q4(q);
    expectClose(canonical(multiply(left, left, q4(q))), golden.cases[0]!.product, ROUNDING);
    expectClose(canonical(multiply(right, q4(p), right)), golden.cases[0]!.product, ROUNDING);
  });
});

describe('rotate', () => {
  it('turns x into y by a quarter turn about z', () => {
    const h = Math.SQRT1_2;
    expectClose(rotate(vector3(), quaternion(h, 0, 0, h), vector3(1)), [0, 1, 0], ROUNDING);
  });

  it('turns x into y by a third of a turn about (1,1,1)', () => {
    const q = quaternion(0.5, 0.5, 0.5, 0.5);
    expectClose(rotate(vector3(), q, vector3(1)), [0, 1, 0], ROUNDING);
  });

  it('agrees with scipy on a rotation from Euler angles', () => {
    const v = rotate(vector3(), r, vector3(0.1, -0.2, 0.3));
    expectClose(v, [-0.1383663494, -0.3449489743, 0.04318516526], PRINTED_10);
  });

  it('chains turns about the own axes to the rotations of the upper limb that scipy makes', () => {
    // reference.md E: YXY(30, 60, -45 deg) with its matrix, ZXY(75, 8, 40 deg), intrinsic.
    const chain = (axes: string, ...degrees: readonly number[]) =>
      degrees.reduce((q, angle, k) => {
        const [x, y, z] = ['X', 'Y', 'Z'].map((a) => (a === axes[k] ? angle * RAD_PER_DEG : 0));
        return multiply(q, q, fromRotationVector(quaternion(), x!, y!, z!));
      }, quaternion());
    expectClose(chain('YXY', 30, 60, -45), r, PRINTED_10);
    expectClose(chain('ZXY', 75, 8, 40), r2, PRINTED_10);
    const rows = [
      [0.789149131, 0.4330127019, -0.4355957404],
      [-0.6123724357, 0.5, -0.6123724357],
      [-0.04736717275, 0.75, 0.6597396084],
    ];
    for (let i = 0; i < 3; i++) {
      const image = rotate(vector3(), r, vector3(+(i === 0), +(i === 1), +(i === 2)));
      expectClose(
        image,
        rows.map((row) => row[i]!),
        2 * PRINTED_10,
      );
    }
  });

  it('carries the axes of a serial chain as Modern Robotics prints them', () => {
    // Lynch & Park, JacobianSpace: rows 1 to 3 are the joint axes in space, each turned by all joints before it;
    // NxRLab/ModernRobotics@cbd41fd, core.py, printed to eight digits.
    const axes = [vector3(0, 0, 1), vector3(1), vector3(0, 1), vector3(1)];
    const printed = [
      [0, 0, 1],
      [0.98006658, 0.19866933, 0],
      [-0.09011564, 0.4445544, 0.89120736],
      [0.95749426, 0.28487557, -0.04528405],
    ];
    const q = quaternion();
    [0.2, 1.1, 0.1, 1.2].forEach((theta, k) => {
      const axis = axes[k]!;
      expectClose(rotate(vector3(), q, axis), printed[k]!, PRINTED_8);
      const [x, y, z] = axis.map((a) => theta * a) as unknown as [number, number, number];
      multiply(q, q, fromRotationVector(quaternion(), x, y, z));
    });
  });

  it('chains body-fixed quarter turns about x, y and z to the turn of x into z', () => {
    const q = quaternion();
    for (const axis of [
      [1, 0, 0],
      [0, 1, 0],
      [0, 0, 1],
    ] as const) {
      const [x, y, z] = axis.map((a) => (a * Math.PI) / 2) as [number, number, number];
      multiply(q, q, fromRotationVector(quaternion(), x, y, z));
    }
    expectClose(q, [0, Math.SQRT1_2, 0, Math.SQRT1_2], ROUNDING);
    expectClose(rotate(vector3(), q, vector3(1)), [0, 0, 1], ROUNDING);
  });

  it('reads a row of a column', () => {
    const column = Float64Array.of(9, 9, ...r, 9);
    const v = vector3(1, -2, 3);
    const expected = rotate(vector3(), r, v);
    expect(rotateByRow(vector3(), column, 2, v)).toEqual(expected);
    expect(rotateByRow(v, column, 2, v)).toEqual(expected);
  });

  it('is undone by rotateInverse, also in place', () => {
    fc.assert(
      fc.property(rotations, components, components, components, (q, x, y, z) => {
        const v = vector3(x, y, z);
        expectClose(rotateInverse(v, q, rotate(v, q, v)), [x, y, z], ROUNDING);
      }),
    );
  });
});

describe('random rotations by scipy', () => {
  it.each(golden.cases.map((c, i) => [i, c] as const))('case %i agrees throughout', (_, c) => {
    const p = q4(c.p);
    const q = q4(c.q);
    expectClose(canonical(multiply(quaternion(), p, q)), c.product, ROUNDING);
    expectClose(rotate(vector3(), p, q4(c.v)), c.rotated, 4 * ROUNDING);
    expectClose(toRotationVector(vector3(), p), c.rotationVectorP, ROUNDING);
    const [x, y, z] = c.rotationVectorP;
    expectClose(fromRotationVector(quaternion(), x!, y!, z!), c.p, ROUNDING);
    expect(Math.abs(quaternionAngle(p, q) - c.angle)).toBeLessThan(ROUNDING);
    // acos loses digits near 0 and pi, and these arcs are neither: still ample
    expectClose(canonical(slerp(quaternion(), p, q, c.t)), c.slerp, 1e-13);
    const column = (i: number) => q4(c.matrixP.map((row) => row[i]!));
    const again = fromAxes(quaternion(), column(0), column(1), column(2));
    expectClose(canonical(again), c.p, ROUNDING);
  });
});

describe('turns near none and near half a turn by scipy', () => {
  it.each(golden.extremes.map((c) => [Math.hypot(...c.rotationVector), c] as const))(
    '%f rad agrees in its quaternion, its logarithm and its axes',
    (angle, c) => {
      const [x, y, z] = c.rotationVector as [number, number, number];
      const q = fromRotationVector(quaternion(), x, y, z);
      // relative in the small components: 4 roundings
      expectClose([q[0]!], [c.q[0]!], 4e-16);
      expectClose(q.subarray(1), c.q.slice(1), 1e-15 * angle);
      expectClose(toRotationVector(vector3(), q4(c.q)), c.rotationVector, 2e-15 * angle);
      for (let i = 0; i < 3; i++) {
        const image = rotate(vector3(), q, vector3(+(i === 0), +(i === 1), +(i === 2)));
        expectClose(
          image,
          c.matrix.map((row) => row[i]!),
          1e-15,
        );
      }
    },
  );
});

describe('slerp', () => {
  it('agrees with scipy a quarter and half of the way, along the shorter arc', () => {
    expectClose(
      slerp(quaternion(), r, r2, 0.25),
      [0.9561648845, 0.2846726338, 0.003769879252, -0.06852731728],
      3 * PRINTED_10,
    );
    expectClose(
      slerp(quaternion(), r, r2, 0.5),
      [0.9663851273, 0.1466689498, 0.1202344472, 0.1735847993],
      3 * PRINTED_10,
    );
  });

  it('starts at p, ends at q, and takes -q for q', () => {
    const minus = r2.map((x) => -x);
    expectClose(slerp(quaternion(), r, minus, 0), r, PRINTED_10);
    expectClose(
      slerp(quaternion(), r, minus, 1),
      minus.map((x) => -x),
      PRINTED_10,
    );
  });

  it('divides a turn in proportion, also where the series gives way to the sine', () => {
    // the cosine in four dimensions, cos(angle / 2), is 0.9999 at 0.02828 rad; closed form: that share of the turn
    for (const angle of [1e-9, 1e-6, 1e-4, 0.01, 0.0282, 0.0283, 0.0284, 0.1, 1]) {
      const q = fromRotationVector(quaternion(), 0, angle, 0);
      for (const t of [0.1, 0.5, 0.9]) {
        const part = slerp(quaternion(), quaternion(), q, t);
        // a quaternion near 1 keeps its small components to about 1e-16
        expect(Math.abs(part[2]! - Math.sin((t * angle) / 2))).toBeLessThan(1e-15);
      }
    }
  });

  it('reads rows of columns, and may write over one', () => {
    const column = Float64Array.of(9, 9, 9, ...r, ...r2);
    const expected = slerp(quaternion(), r, r2, 0.3);
    expect(slerpRows(quaternion(), column, 3, column, 7, 0.3)).toEqual(expected);
    const own = Float64Array.from(r2);
    expect(slerpRows(own, r, 0, own, 0, 0.3)).toEqual(expected);
  });
});

describe('quaternionAngle', () => {
  it('is 139.056 degrees between the two Euler rotations', () => {
    const degrees = (quaternionAngle(r, r2) * 180) / Math.PI;
    expect(Math.abs(degrees - 139.0561522511)).toBeLessThan(1e-7); // ten-digit quaternions, in degrees
  });

  it('keeps all digits of a tiny angle', () => {
    // An arc cosine would answer 0 or 1.5e-8 here.
    const q = fromRotationVector(quaternion(), 0, 0, 1e-9);
    expect(quaternionAngle(quaternion(), q)).toBeCloseTo(1e-9, 20);
  });

  it('takes q and -q for the same orientation', () => {
    expect(
      quaternionAngle(
        r,
        r.map((x) => -x),
      ),
    ).toBeLessThan(PRINTED_10);
  });
});

describe('fromRotationVector and toRotationVector', () => {
  it('agree with the axis and angle that Modern Robotics prints for (1,2,3)', () => {
    // Lynch & Park, Modern Robotics, AxisAng3([1,2,3]) and MatrixExp3; NxRLab/ModernRobotics@cbd41fd, core.py.
    const angle = 3.7416573867739413;
    const axis = [0.26726124, 0.53452248, 0.80178373];
    const q = fromRotationVector(quaternion(), 1, 2, 3);
    expect(Math.abs(q[0]! - Math.cos(angle / 2))).toBeLessThan(ROUNDING);
    expectClose(
      q.subarray(1),
      axis.map((a) => a * Math.sin(angle / 2)),
      PRINTED_8,
    );
    const rows = [
      [-0.69492056, 0.71352099, 0.08929286],
      [-0.19200697, -0.30378504, 0.93319235],
      [0.69297817, 0.6313497, 0.34810748],
    ];
    for (let c = 0; c < 3; c++) {
      const image = rotate(vector3(), q, vector3(+(c === 0), +(c === 1), +(c === 2)));
      expectClose(
        image,
        rows.map((row) => row[c]!),
        PRINTED_8,
      );
    }
  });

  it('take the logarithm that Modern Robotics prints for the cyclic permutation', () => {
    // MatrixLog3([[0,0,1],[1,0,0],[0,1,0]]) = 1.20919958 (1,1,1), same source.
    const q = fromAxes(quaternion(), vector3(0, 1, 0), vector3(0, 0, 1), vector3(1, 0, 0));
    expectClose(toRotationVector(vector3(), q), [1.20919958, 1.20919958, 1.20919958], PRINTED_8);
  });

  it('take the logarithms that scipy computes', () => {
    // reference.md E, scipy 1.17.1.
    expectClose(
      toRotationVector(vector3(), r),
      [0.8329935863, -0.2373740825, -0.6391784596],
      3 * PRINTED_10,
    );
    const q = normaliseQuaternion(q4([0.9, 0.1, 0.2, 0.3]));
    expectClose(
      toRotationVector(vector3(), q),
      [0.2106024074, 0.4212048148, 0.6318072222],
      PRINTED_10,
    );
  });

  it('undo each other for turns below half a turn', () => {
    fc.assert(
      fc.property(
        components,
        components,
        components,
        fc.double({ min: -9, max: 0, noNaN: true }),
        (x, y, z, e) => {
          const size = 1.8 * 10 ** e; // |v| < pi
          const v = [x * size, y * size, z * size];
          const again = toRotationVector(
            vector3(),
            fromRotationVector(quaternion(), v[0]!, v[1]!, v[2]!),
          );
          expectClose(again, v, 1e-15 + 4e-16 * size * 10);
        },
      ),
    );
  });

  it('is exact on both sides of where the sine gives way to its series, at 0.2 rad', () => {
    for (const angle of [1e-12, 1e-4, 0.1, 0.2 - 1e-6, 0.2 + 1e-6, 0.3]) {
      const q = fromRotationVector(quaternion(), angle, 0, 0);
      expect(Math.abs(q[0]! - Math.cos(angle / 2))).toBeLessThan(2.3e-16);
      // relative to what is left of a tiny angle
      expect(Math.abs(q[1]! / Math.sin(angle / 2) - 1)).toBeLessThan(4.5e-16);
    }
  });

  it('gives an angle within [0, pi] also for a quaternion with negative w', () => {
    fc.assert(
      fc.property(rotations, (q) => {
        const v = toRotationVector(vector3(), q);
        const minus = toRotationVector(
          vector3(),
          q.map((x) => -x),
        );
        expect(Math.hypot(...v)).toBeLessThanOrEqual(Math.PI + ROUNDING);
        // half a turn may answer v or -v
        if (Math.abs(q[0]!) > 1e-9) expectClose(minus, v, 1e-12);
      }),
    );
  });

  it('integrate a constant rate exactly', () => {
    // (1, -2, .5) rad/s for 1 s in 100 steps: reference.md E, scipy 1.17.1.
    const q = quaternion();
    const step = fromRotationVector(quaternion(), 0.01, -0.02, 0.005);
    for (let i = 0; i < 100; i++) multiply(q, q, step);
    expectClose(q, [0.412459622, 0.3975824707, -0.7951649413, 0.1987912353], PRINTED_10);
  });
});

describe('fromAxes', () => {
  it('gives back random rotations through all four of its branches', () => {
    const branches = new Set<string>();
    fc.assert(
      fc.property(rotations, (q) => {
        const axis = (i: number) =>
          rotate(vector3(), q, vector3(+(i === 0), +(i === 1), +(i === 2)));
        const [x, y, z] = [axis(0), axis(1), axis(2)];
        const diagonal = [x[0]!, y[1]!, z[2]!];
        const trace = diagonal[0]! + diagonal[1]! + diagonal[2]!;
        const largest = Math.max(trace, ...diagonal);
        branches.add(largest === trace ? 'trace' : `axis ${diagonal.indexOf(largest)}`);
        const again = fromAxes(quaternion(), x, y, z);
        expect(Math.abs(Math.hypot(...again) - 1)).toBeLessThan(ROUNDING);
        // every branch divides by at least 1: no digits are lost
        expect(quaternionAngle(again, q)).toBeLessThan(1e-14);
      }),
      { numRuns: 400, seed: 1 },
    );
    expect([...branches].sort()).toEqual(['axis 0', 'axis 1', 'axis 2', 'trace']);
  });

  it('gives half turns about each axis', () => {
    const e = [vector3(1, 0, 0), vector3(0, 1, 0), vector3(0, 0, 1)] as const;
    const flip = (v: Float64Array) => v.map((x) => -x);
    expectClose(canonical(fromAxes(quaternion(), e[0], flip(e[1]), flip(e[2]))), [0, 1, 0, 0], 0);
    expectClose(canonical(fromAxes(quaternion(), flip(e[0]), e[1], flip(e[2]))), [0, 0, 1, 0], 0);
    expectClose(canonical(fromAxes(quaternion(), flip(e[0]), flip(e[1]), e[2])), [0, 0, 0, 1], 0);
  });

  it('refuses left-handed, degenerate and missing axes', () => {
    const [x, y, z] = [vector3(1), vector3(0, 1), vector3(0, 0, 1)];
    expect(() => fromAxes(quaternion(), y, x, z)).toThrow(RangeError);
    expect(() => fromAxes(quaternion(), x, x, z)).toThrow(RangeError);
    expect(() => fromAxes(quaternion(), vector3(2), y, z)).toThrow(RangeError);
  });

  // A fault once: only the determinant is looked at.
  it('refuses axes of determinant 1 that are not orthonormal', () => {
    const [y, z] = [vector3(0, 1), vector3(0, 0, 1)];
    expect(() => fromAxes(quaternion(), vector3(2), vector3(0, 0.5), z)).toThrow(RangeError);
    expect(() => fromAxes(quaternion(), vector3(1, 0.3), y, z)).toThrow(RangeError);
  });

  it('refuses axes that are not numbers', () => {
    const nan = vector3(Number.NaN, 0, 0);
    expect(() => fromAxes(quaternion(), nan, vector3(0, 1), vector3(0, 0, 1))).toThrow(
      /right-handed orthonormal/,
    );
  });
});

describe('conjugate and normaliseQuaternion', () => {
  it('undo a rotation', () => {
    fc.assert(
      fc.property(rotations, (q) => {
        const identity = multiply(quaternion(), q, conjugate(quaternion(), q));
        expectClose(identity, [1, 0, 0, 0], ROUNDING);
      }),
    );
  });

  it('take rounding off a norm and refuse what is no unit quaternion', () => {
    const off = 1 + 4e-7;
    const q = renormalise(q4([0.9233805169 * off, 0.1025978352, 0.2051956704, 0.3077935056]));
    expect(Math.abs(Math.hypot(...q) - 1)).toBeLessThan(1e-12);
    for (const wrong of [0.9, 1.1, 0, Number.NaN]) {
      expect(() => renormalise(quaternion(wrong))).toThrow(RangeError);
    }
  });

  it('scales to norm 1 and refuses zero and NaN', () => {
    expectClose(
      normaliseQuaternion(q4([0.9, 0.1, 0.2, 0.3])),
      [0.9233805169, 0.1025978352, 0.2051956704, 0.3077935056],
      PRINTED_10,
    );
    expect(() => normaliseQuaternion(quaternion(0, 0, 0, 0))).toThrow(RangeError);
    expect(() => normaliseQuaternion(quaternion(Number.NaN))).toThrow(RangeError);
  });
});
