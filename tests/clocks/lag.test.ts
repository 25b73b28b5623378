import { describe, expect, it } from 'vitest';
import { estimateLag } from '../../src/core/clocks/lag.ts';
import { seededRandom } from '../../src/core/maths/random.ts';

/** A bump such as a swing makes, sampled at whole steps, `late` steps later. */
const bump = (late: number, noise = 0, seed = 1) => {
  const random = seededRandom(seed);
  return Float64Array.from({ length: 120 }, (_, i) => {
    const t = (i - late - 60) / 9;
    return 3 + Math.exp(-t * t) + 0.6 * Math.exp(-((t - 1.6) ** 2) / 0.3) + random.normal(noise);
  });
};

describe('estimateLag', () => {
  it.each([0, 1, -3, 0.5, 2.25, -1.7])('finds a lag of %d steps', (late) => {
    // Closed form: the same function shifted. A parabola through a peak of this width is off by less than
    // 0.03 of a step.
    const lag = estimateLag(bump(0), bump(late), 8);
    expect(Math.abs(lag!.steps - late)).toBeLessThan(0.03);
    expect(lag!.likeness).toBeGreaterThan(0.99);
  });

  it('does not mind gain and offset', () => {
    const other = bump(2).map((y) => 40 - 0.3 * y);
    expect(
      estimateLag(
        bump(0),
        other.map((y) => -y),
        8,
      )!.steps,
    ).toBeCloseTo(2, 1);
  });

  it('is unbiased under noise', () => {
    const lags = Array.from({ length: 60 }, (_, seed) => {
      return estimateLag(bump(0, 0.02, seed), bump(1.5, 0.02, 1000 + seed), 8)!.steps;
    });
    const mean = lags.reduce((sum, lag) => sum + lag, 0) / lags.length;
    const sd = Math.sqrt(lags.reduce((sum, lag) => sum + (lag - mean) ** 2, 0) / (lags.length - 1));
    // three standard errors of the mean, and the 0.03 of the parabola
    expect(Math.abs(mean - 1.5)).toBeLessThan((3 * sd) / Math.sqrt(lags.length) + 0.03);
  });

  it('says nothing when the best lag is at the edge', () => {
    expect(estimateLag(bump(0), bump(9), 8)).toBeNull();
  });

  it('says nothing about signals that do not vary, or that are unknown', () => {
    const flat = new Float64Array(120).fill(9.81);
    expect(estimateLag(flat, bump(0), 8)).toBeNull();
    expect(estimateLag(new Float64Array(120).fill(Number.NaN), bump(0), 8)).toBeNull();
  });

  it('refuses signals that are too short or differ in length', () => {
    expect(() => estimateLag(bump(0), bump(0).subarray(1), 8)).toThrow(RangeError);
    expect(() => estimateLag(bump(0).subarray(90), bump(0).subarray(90), 8)).toThrow(/30/);
  });
});
