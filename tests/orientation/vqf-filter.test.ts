import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { DEG_PER_RAD, RAD_PER_DEG } from '../../src/core/maths/angles.ts';
import { rotate } from '../../src/core/maths/quaternion.ts';
import { vector3 } from '../../src/core/maths/vector.ts';
import {
  createVqf,
  stepVqf,
  VQF_DEFAULTS,
  type VqfState,
  vqfCoefficients,
} from '../../src/core/orientation/vqf-filter.ts';
import { expectClose } from '../maths/close.ts';

interface GoldenRow {
  readonly i: number;
  readonly q: number[];
  readonly biasRadS: number[];
  readonly rest: boolean;
}

// The reference implementation (version in the file) by tests/golden/make-orientation.py.
const golden = JSON.parse(
  readFileSync(new URL('../golden/orientation.json', import.meta.url), 'utf8'),
) as { readonly motion: { readonly fs: number; readonly rows: readonly GoldenRow[] } };

/** The input of tests/golden/make-orientation.py: spells of motion and rest, with a bias. */
function motionAt(i: number, fs: number): { gyr: Float64Array; acc: Float64Array } {
  const t = i / fs;
  const busy = t % 12 < 8 ? 1 : 0;
  return {
    gyr: vector3(
      busy * 3 * Math.sin(2.1 * t) + 0.011,
      busy * 5 * Math.sin(3.3 * t + 0.5) - 0.007,
      busy * 2 * Math.cos(1.7 * t) + 0.004,
    ),
    acc: vector3(
      1.5 + busy * 4 * Math.sin(5 * t),
      -2 + busy * 3 * Math.cos(4 * t),
      9 + busy * 5 * Math.sin(2.5 * t + 1),
    ),
  };
}

/** "Up" in the earth frame of a measured specific force. */
const upOf = (state: VqfState, acc: Float64Array) => rotate(vector3(), state.qEarthFromSensor, acc);

describe('vqfCoefficients', () => {
  it('gives the printed Kalman weights at 100 Hz', () => {
    // reference.md F: P0 2500, V .01, w_m 1000100, w_vert 10001000000, w_rest 8109: whole numbers.
    const c = vqfCoefficients(0.01);
    expectClose([c.biasP0], [2500], 1e-9);
    expectClose([c.biasV], [0.01], 1e-14);
    expectClose([c.weightMotion], [1000100], 1e-6);
    expectClose([c.weightVertical], [10001000000], 1e-2);
    expectClose([c.weightRest], [8109], 1e-8);
  });

  it.each([
    [50, 500100, 4059],
    [104, 1040100, 8433],
  ])('gives the printed Kalman weights at %i Hz', (fs, motion, rest) => {
    const c = vqfCoefficients(1 / fs);
    expectClose([c.weightMotion, c.weightRest], [motion, rest], 1e-6);
  });
});

describe('stepVqf', () => {
  it('reproduces golden run G1 to 1e-6', () => {
    // reference.md F, G1: public documentation example of the algorithm, 1 deg/s and 9.81/sqrt 3 on every axis,
    // 100 Hz, 6000 samples, run through the reference implementation. 1e-6: 12 printed digits leave room
    // for another order of summation over 6000 steps.
    const expected = new Map<number, number[]>([
      [0, [0.888073823833, 0.325106712395, -0.325008447522, 0.000134232312444]],
      [99, [0.887959476771, 0.329951227348, -0.320124955796, 0.0134226622027]],
      [999, [0.887789130855, 0.333176438755, -0.316732267007, 0.0224630993116]],
      [5999, [0.887780656367, 0.333302062224, -0.316598488501, 0.022817505904]],
    ]);
    const expectedBias = new Map<number, number[]>([
      [149, [0.232280565392, 0.239223611907, 0.235744629068]],
      [299, [0.978963752429, 0.979205923395, 0.979084315504]],
      [999, [0.9967005728, 0.9967387856, 0.9967195959]],
      [5999, [0.99998912416, 0.99998925018, 0.9999891869]],
    ]);
    const c = vqfCoefficients(0.01);
    const state = createVqf(c);
    const gyr = vector3(RAD_PER_DEG, RAD_PER_DEG, RAD_PER_DEG);
    const a = 9.81 / Math.sqrt(3);
    const acc = vector3(a, a, a);
    const restAt: number[] = [];
    for (let i = 0; i < 6000; i++) {
      stepVqf(c, state, gyr, acc, 0.01, true);
      if (state.atRest) restAt.push(i);
      const q = expected.get(i);
      if (q !== undefined) expectClose(state.qEarthFromSensor, q, 1e-6);
      const bias = expectedBias.get(i);
      if (bias !== undefined) {
        expectClose(
          state.biasRadS.map((b) => b * DEG_PER_RAD),
          bias,
          1e-6,
        );
      }
    }
    // the 150th sample reaches 1.5 s of rest, counted in hundredths summed in double
    expect(restAt[0]).toBe(149);
  });

  it('reproduces the reference implementation through motion, rest and bias', () => {
    const { fs, rows } = golden.motion;
    const c = vqfCoefficients(1 / fs);
    const state = createVqf(c);
    let row = 0;
    for (let i = 0; row < rows.length; i++) {
      const { gyr, acc } = motionAt(i, fs);
      stepVqf(c, state, gyr, acc, 1 / fs, true);
      if (i !== rows[row]!.i) continue;
      // same arithmetic in double, other order: 6000 steps of 1e-16, amplified by the bias loop
      expectClose(state.qEarthFromSensor, rows[row]!.q, 1e-9);
      expectClose(state.biasRadS, rows[row]!.biasRadS, 1e-10);
      expect(state.atRest).toBe(rows[row]!.rest);
      row++;
    }
    expect(row).toBe(9);
  });

  it('gives the same bits when saved, copied and resumed at any sample', () => {
    const c = vqfCoefficients(0.005);
    const run = (state: VqfState, from: number, to: number) => {
      for (let i = from; i < to; i++) {
        const { gyr, acc } = motionAt(i, 200);
        stepVqf(c, state, gyr, acc, 0.005, i % 97 !== 0);
      }
      return state;
    };
    const whole = run(createVqf(c), 0, 3000);
    for (const split of [1, 99, 100, 601, 1999, 2500]) {
      const saved = structuredClone(run(createVqf(c), 0, split));
      // another filter at work in between must leave no trace in scratch memory
      run(createVqf(c), 5, 30);
      expect(run(saved, split, 3000)).toEqual(whole);
    }
  });

  it('finds the inclination from the first resting sample', () => {
    // reference.md E: tilt of a = (1.2, -3.4, 9.1): roll -20.4870141933, pitch -7.0419411791 degrees.
    const c = vqfCoefficients(0.01);
    const state = createVqf(c);
    const acc = vector3(1.2, -3.4, 9.1);
    stepVqf(c, state, vector3(), acc, 0.01, true);
    expectClose(upOf(state, acc), [0, 0, Math.hypot(1.2, 3.4, 9.1)], 1e-14);
    const [w, x, y, z] = state.qEarthFromSensor as unknown as [number, number, number, number];
    const roll = Math.atan2(2 * (w * x + y * z), 1 - 2 * (x * x + y * y)) * DEG_PER_RAD;
    const pitch = Math.asin(2 * (w * y - z * x)) * DEG_PER_RAD;
    expectClose([roll, pitch], [-20.4870141933, -7.0419411791], 1e-9);
  });

  it('turns over at once when it starts exactly upside down', () => {
    const c = vqfCoefficients(0.01);
    const state = createVqf(c);
    const acc = vector3(0, 0, -9.81);
    stepVqf(c, state, vector3(), acc, 0.01, true);
    expectClose(upOf(state, acc), [0, 0, 9.81], 1e-12);
  });

  it('stays finite on an exactly level, resting sensor', () => {
    const c = vqfCoefficients(0.01);
    const state = createVqf(c);
    for (let i = 0; i < 500; i++) stepVqf(c, state, vector3(), vector3(0, 0, 1), 0.01, true);
    expectClose(state.qEarthFromSensor, [1, 0, 0, 0], 0);
    expectClose(state.biasRadS, [0, 0, 0], 0);
  });

  it('turns by the rate alone while the accelerometer is not to be used', () => {
    const c = vqfCoefficients(0.01);
    const state = createVqf(c);
    stepVqf(c, state, vector3(), vector3(0, 0, 9.81), 0.01, true);
    // Closed form: 50 steps of 0.02 s at 3 rad/s about x are 3 rad.
    for (let i = 0; i < 50; i++) {
      stepVqf(c, state, vector3(3, 0, 0), vector3(300, -200, 100), 0.02, false);
    }
    expectClose(state.qEarthFromSensor, [Math.cos(1.5), Math.sin(1.5), 0, 0], 1e-14);
  });

  it('takes a sample without specific force for one without accelerometer', () => {
    const c = vqfCoefficients(0.01);
    const fed = createVqf(c);
    const spared = createVqf(c);
    for (const state of [fed, spared]) {
      stepVqf(c, state, vector3(0.1, 0, 0), vector3(1, 2, 9), 0.01, true);
      stepVqf(c, state, vector3(1, 2, 3), vector3(), 0.01, state === fed);
    }
    expect(fed).toEqual(spared);
  });

  it('never believes a bias beyond its clip', () => {
    const c = vqfCoefficients(0.01);
    const state = createVqf(c);
    let largest = 0;
    // 10 deg/s for a minute with a sensor that says it lies still: no gyroscope is that bad
    for (let i = 0; i < 6000; i++) {
      stepVqf(c, state, vector3(10 * RAD_PER_DEG, 0, 0), vector3(0, 0, 9.81), 0.01, true);
      largest = Math.max(largest, Math.abs(state.biasRadS[0]!));
    }
    expect(largest).toBeLessThanOrEqual(VQF_DEFAULTS.biasClipRadS);
    expect(state.biasRadS[0]!).toBeGreaterThan(0.9 * VQF_DEFAULTS.biasClipRadS);
    expect(state.atRest).toBe(false);
  });
});
