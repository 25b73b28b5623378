import { describe, expect, test } from 'vitest';
import { checkedCovariance } from '../../src/core/statistics/moments.ts';
import { covarianceShares, ownVarianceShares } from '../../src/core/statistics/variance-shares.ts';
import { expectNear, PRINTED } from './answers.ts';

/** 11, 22, 33, 12, 13, 23 of three columns. */
function covarianceOf([x, y, z]: readonly number[][]): number[] {
  const pairs = [
    [x, x],
    [y, y],
    [z, z],
    [x, y],
    [x, z],
    [y, z],
  ] as const;
  return pairs.map(([a, b]) => checkedCovariance(a!, b!));
}

/** reference.md C2 and D3: R = sum L_i cos(theta_i - phi), phi the direction of the tip. */
function armOfReference(): number[][] {
  const joints = [
    [40, 35, 20],
    [42.5, 33, 18.5],
    [38, 37.5, 22],
    [41, 36, 16],
    [39.5, 31.5, 24.5],
    [43, 34.5, 19],
    [37, 38, 17.5],
    [40.5, 32, 23],
    [41.5, 35.5, 20.5],
    [38.5, 36.5, 18],
  ];
  const rows = joints.map((q) => {
    const segments = [q[0]!, q[0]! + q[1]!, q[0]! + q[1]! + q[2]!].map((a) => (a * Math.PI) / 180);
    const lengths = [0.28, 0.25, 0.5];
    const x = segments.reduce((sum, a, k) => sum + lengths[k]! * Math.cos(a), 0);
    const y = segments.reduce((sum, a, k) => sum + lengths[k]! * Math.sin(a), 0);
    return segments.map((a, k) => lengths[k]! * Math.cos(a - Math.atan2(y, x)));
  });
  return [0, 1, 2].map((k) => rows.map((row) => row[k]!));
}

describe('covarianceShares', () => {
  test('of a covariance matrix (reference.md D2)', () => {
    const out = new Float64Array(3);
    covarianceShares(out, [4, 2.25, 1, 1.5, -0.8, 0.3]);
    for (const [k, share] of [0.5081081081, 0.4378378378, 0.0540540541].entries())
      expectNear(out[k], share, PRINTED);
  });

  test('of the exact split of a planar arm (reference.md D3)', () => {
    const out = new Float64Array(3);
    covarianceShares(out, covarianceOf(armOfReference()));
    for (const [k, share] of [0.5653213167, 0.005206462407, 0.4294722209].entries())
      expectNear(out[k], share, PRINTED);
  });

  test('a contribution that makes up for the others is negative; together they are 1', () => {
    const out = new Float64Array(3);
    covarianceShares(out, [4, 1, 1, -1.5, 0, 0]);
    expect(out[1]).toBeLessThan(0);
    expectNear(out[0]! + out[1]! + out[2]!, 1, 1e-15);
  });

  test('there are none of a sum that does not vary', () => {
    const out = new Float64Array(3);
    covarianceShares(out, [1, 1, 0, -1, 0, 0]);
    expect([...out]).toEqual([Number.NaN, Number.NaN, Number.NaN]);
  });
});

describe('ownVarianceShares', () => {
  test('of the exact split of a planar arm (reference.md D3, there over the variance of the sum)', () => {
    const out = new Float64Array(3);
    ownVarianceShares(out, covarianceOf(armOfReference()));
    const over = [0.3857735252, 0.0006798237742, 0.2407838466];
    const sum = over[0]! + over[1]! + over[2]!;
    for (let k = 0; k < 3; k++) expectNear(out[k], over[k]! / sum, PRINTED);
  });

  test('there are none where nothing varies', () => {
    const out = new Float64Array(3);
    ownVarianceShares(out, new Float64Array(6));
    expect([...out]).toEqual([Number.NaN, Number.NaN, Number.NaN]);
  });
});
