import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import {
  createLowPass,
  lowPassCoefficients,
  stepLowPass,
} from '../../src/core/orientation/low-pass.ts';
import { expectClose } from '../maths/close.ts';

interface LowPassCase {
  readonly fs: number;
  readonly tau: number;
  readonly b: number[];
  readonly a: number[];
  readonly x: number[];
  readonly leadMean: number;
  readonly yAfterLead: number[];
}

// scipy.signal of scipy 1.17.1 by tests/golden/make-orientation.py, seed inside the file.
const golden = JSON.parse(
  readFileSync(new URL('../golden/orientation.json', import.meta.url), 'utf8'),
) as { readonly lowPass: readonly LowPassCase[] };

describe('lowPassCoefficients', () => {
  it('gives the printed accelerometer coefficients at 100 Hz and 3 s', () => {
    // reference.md F, computed there from the published formulas; ten printed digits.
    const c = lowPassCoefficients(3, 0.01);
    expect(Math.abs(c.b0 / 5.53708837461e-6 - 1)).toBeLessThan(1e-10);
    expect(Math.abs(c.b1 / 1.10741767492e-5 - 1)).toBeLessThan(1e-10);
    expect(Math.abs(c.b2 / 5.53708837461e-6 - 1)).toBeLessThan(1e-10);
    expectClose([c.a1, c.a2], [-1.9933333579, 0.993355506255], 6e-11);
  });

  it('gives the printed rest coefficients at 100 Hz and 0.5 s', () => {
    const c = lowPassCoefficients(0.5, 0.01);
    expect(Math.abs(c.b0 / 0.000196065872396 - 1)).toBeLessThan(1e-10);
    expectClose([c.a1, c.a2], [-1.96000517628, 0.960789439767], 6e-12);
  });

  it.each([
    [50, 2.2074893835e-5],
    [104, 5.12000439707e-6],
    [208, 1.28205073504e-6],
    [416, 3.20769401791e-7],
  ])('gives the printed leading coefficient at %i Hz', (fs, b0) => {
    expect(Math.abs(lowPassCoefficients(3, 1 / fs).b0 / b0 - 1)).toBeLessThan(1e-10);
  });

  it('agrees with the Butterworth design of scipy', () => {
    for (const { fs, tau, b, a } of golden.lowPass) {
      const c = lowPassCoefficients(tau, 1 / fs);
      expectClose([c.b0, c.b1, c.b2, 1, c.a1, c.a2], [...b, ...a], 1e-14);
    }
  });

  it('lets a constant through unchanged', () => {
    const c = lowPassCoefficients(0.5, 0.01);
    // gain at zero frequency: sum b / sum a = 1, denominator about 1e-3
    expect((c.b0 + c.b1 + c.b2) / (1 + c.a1 + c.a2)).toBeCloseTo(1, 11);
  });

  it('refuses a time constant it cannot follow', () => {
    expect(() => lowPassCoefficients(0.004, 0.01)).toThrow(/time constant/);
    expect(() => lowPassCoefficients(Number.NaN, 0.01)).toThrow(RangeError);
    expect(() => lowPassCoefficients(0.005, 0.01)).not.toThrow();
  });
});

describe('stepLowPass', () => {
  it('answers the running mean for one time constant', () => {
    const state = createLowPass(2);
    const c = lowPassCoefficients(0.5, 0.01);
    for (let n = 1; n <= 50; n++) {
      const y = stepLowPass(c, state, Float64Array.of(n, -3 * n));
      expectClose(y, [(n + 1) / 2, (-3 * (n + 1)) / 2], 1e-12);
    }
  });

  it('goes on like scipy.signal.lfilter from the steady state of that mean', () => {
    for (const { fs, tau, x, leadMean, yAfterLead } of golden.lowPass) {
      const c = lowPassCoefficients(tau, 1 / fs);
      const state = createLowPass(1);
      const y = x.map((value) => stepLowPass(c, state, Float64Array.of(value))[0]!);
      const lead = Math.round(tau * fs);
      expect(c.meanSamples).toBe(lead);
      expect(y[lead - 1]!).toBeCloseTo(leadMean, 13);
      // recursion over tens of samples of size 1
      expectClose(y.slice(lead), yAfterLead, 1e-12);
    }
  });
});
