import { describe, expect, test } from 'vitest';
import { seededRandom } from '../../src/core/maths/random.ts';
import {
  compareOnManifold,
  manifoldSpread,
} from '../../src/core/measures/uncontrolled-manifold.ts';
import { answered, expectNear, PRINTED } from '../statistics/answers.ts';
import { PLANAR_JACOBIANS, PLANAR_JOINTS, PLANAR_SEGMENTS } from './planar-arm.ts';

/**
 * Forces of four fingers at 20 peaks; data of J. Friedman (MIT licence), after Friedman et al. 2009; expected
 * values of reference.md C1, which have the denominator N.
 */
const FINGERS = `8.152,8.266,4.597,1.843; 8.886,8.505,4.554,1.347; 9.102,8.983,3.794,1.121;
8.324,8.027,3.963,1.076; 7.763,8.409,3.963,0.851; 8.152,8.601,4.343,1.212; 8.065,8.075,5.146,1.031;
7.719,7.884,4.893,1.257; 10.096,6.832,3.709,0.761; 8.67,7.31,4.343,0.851; 7.892,8.027,4.808,0.851;
7.201,7.74,5.104,0.761; 8.065,7.501,5.4,1.392; 7.806,7.597,5.062,0.851; 7.46,7.166,5.442,1.302;
8.627,7.214,4.977,0.896; 9.448,7.214,3.498,0.761; 8.67,7.549,4.639,0.806; 8.065,5.636,7.217,0.986;
9.491,6.067,5.188,0.715`
  .split(';')
  .map((row) => row.split(',').map(Number));

/** Task variables that depend on the elements in a straight line. */
const linear = (columns: readonly Float64Array[], jacobian: readonly (readonly number[])[]) => ({
  columns,
  jacobianAt: () => jacobian,
});

function spreadOf(columns: readonly Float64Array[], jacobian: readonly (readonly number[])[]) {
  const { vUcm, vOrt, deltaV, deltaVz, n } = manifoldSpread(linear(columns, jacobian));
  return {
    n,
    vUcm: answered(vUcm).value,
    vOrt: answered(vOrt).value,
    deltaV: answered(deltaV).value,
    deltaVz: answered(deltaVz).value,
  };
}

test('finger forces that share a total force', () => {
  const columns = [0, 1, 2, 3].map((k) => Float64Array.from(FINGERS, (row) => row[k]!));
  const found = spreadOf(columns, [[1, 1, 1, 1]]);
  expect(found.n).toBe(20);
  expectNear(found.vUcm, (0.588406491667 * 20) / 19, PRINTED);
  expectNear(found.vOrt, (0.11724931 * 20) / 19, PRINTED);
  expectNear(found.deltaV, 1.0011473984, PRINTED);
  expectNear(found.deltaVz, 1.3558638938 - 0.5493061443, PRINTED);
});

describe('one planar arm, four answers: they depend on the elements and the task', () => {
  const [, elbow, wrist] = PLANAR_JOINTS as [Float64Array, Float64Array, Float64Array];
  // Rows A to D of reference.md C2; Jacobians there have ten digits.
  test.each([
    [
      'three joints to reach',
      PLANAR_JOINTS,
      PLANAR_JACOBIANS.jointsToReach,
      0.00199671762631,
      0.000783981281043,
      0.7615431918,
      0.4674373903,
    ],
    [
      'three joints to the tip',
      PLANAR_JOINTS,
      PLANAR_JACOBIANS.jointsToTip,
      0.00293047863332,
      0.000923468950166,
      1.2603106736,
      0.5773919338,
    ],
    [
      'elbow and wrist to reach',
      [elbow, wrist],
      [PLANAR_JACOBIANS.jointsToReach[0].slice(1)],
      0.00284181217392,
      0.000783981281043,
      1.1351065186,
      0.6439060366,
    ],
    [
      'segment angles to reach',
      PLANAR_SEGMENTS,
      PLANAR_JACOBIANS.segmentsToReach,
      0.00132449225233,
      0.000783884584434,
      0.4724395139,
      0.2622613317,
    ],
  ] as const)('%s', (_, columns, jacobian, vUcm, vOrt, deltaV, deltaVz) => {
    const found = spreadOf(columns, jacobian);
    expectNear(found.vUcm, vUcm, PRINTED);
    expectNear(found.vOrt, vOrt, PRINTED);
    expectNear(found.deltaV, deltaV, PRINTED);
    expectNear(found.deltaVz, deltaVz, PRINTED);
  });
});

test('deltaV stays within its bounds, which are where the adapted z is infinite', () => {
  const random = seededRandom(1);
  const wide = Float64Array.from({ length: 30 }, () => random.normal(1));
  const narrow = Float64Array.from({ length: 30 }, () => random.normal(1e-6));
  const other = Float64Array.from({ length: 30 }, () => random.normal(1));
  // n = 3, d = 1: from -3 to 3/2.
  expect(spreadOf([narrow, wide, other], [[1, 0, 0]]).deltaV).toBeCloseTo(1.5, 9);
  expect(spreadOf([wide, narrow, narrow], [[1, 0, 0]]).deltaV).toBeCloseTo(-3, 9);
});

test('some trials alone, as if there were no others', () => {
  const trials = Int32Array.of(1, 4, 5, 8, 9);
  const few = PLANAR_JOINTS.map((column) => Float64Array.from(trials, (i) => column[i]!));
  const jacobian = PLANAR_JACOBIANS.jointsToReach;
  const all = linear(PLANAR_JOINTS, jacobian);
  const alone = manifoldSpread(linear(few, jacobian));
  expectNear(answered(manifoldSpread(all, trials).vUcm).value, answered(alone.vUcm).value, 1e-9);
});

test('two classes of trials are compared along and across', () => {
  const along = Float64Array.of(0, 3, -3, 6, 0, 1, -1, 2);
  const across = Float64Array.of(1, -1, 0, 2, 2, -2, 0, 4);
  const parts = linear([along, across], [[0, 2]]);
  const contrast = compareOnManifold(parts, Int32Array.of(0, 1, 2, 3), Int32Array.of(4, 5, 6, 7));
  expect(answered(contrast.along).value).toBeCloseTo(3, 12);
  expect(answered(contrast.across).value).toBeCloseTo(1 / 2, 12);
});

test('what has no manifold or no spread is named', () => {
  const [, elbow, wrist] = PLANAR_JOINTS as [Float64Array, Float64Array, Float64Array];
  const flat = manifoldSpread(linear([elbow, wrist], [[0, 0]]));
  expect([flat.vUcm, flat.deltaV]).toEqual([
    { reason: 'no-direction' },
    { reason: 'no-direction' },
  ]);
  const dependent = linear(PLANAR_JOINTS, [
    [1, 2, 3],
    [-2, -4, -6],
  ]);
  expect(manifoldSpread(dependent).vOrt).toEqual({ reason: 'collinear' });
  expect(() => manifoldSpread(linear([elbow], [[1]]))).toThrow(RangeError);
  expect(() => manifoldSpread(linear([elbow, wrist], [[1, 2, 3]]))).toThrow(RangeError);
  const still = new Float64Array(10).fill(0.6);
  const { vUcm, vOrt, deltaV, deltaVz } = manifoldSpread(linear([still, still], [[1, 1]]));
  for (const part of [vUcm, vOrt, deltaV, deltaVz]) expect(part).toEqual({ reason: 'no-spread' });
  for (const n of [0, 1, 2]) {
    const column = elbow.slice(0, n);
    const few = manifoldSpread(linear([column, column], [[1, 2]]));
    expect(few.deltaVz).toEqual({ reason: 'too-few', need: 3, have: n });
  }
});
