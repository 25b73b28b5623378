import { describe, expect, it } from 'vitest';
import { amplitudeFactor, periodFromTaps } from '../../src/core/kit/swing-period.ts';
import { RAD_PER_DEG } from '../../src/core/maths/angles.ts';

/** 2 K(sin(theta / 2)) / pi by the arithmetic-geometric mean (Gauss): T / T0 = 1 / agm(1, cos(theta / 2)). */
function exactFactor(amplitudeRad: number): number {
  let a = 1;
  let b = Math.cos(amplitudeRad / 2);
  for (let i = 0; i < 10; i++) [a, b] = [(a + b) / 2, Math.sqrt(a * b)];
  return 1 / a;
}

describe('amplitudeFactor', () => {
  it('agrees with the elliptic integral up to the widest swing allowed', () => {
    // Handbook value at 30 degrees: 1.01741 (from memory), which the mean above gives too.
    expect(exactFactor(30 * RAD_PER_DEG)).toBeCloseTo(1.01741, 5);
    for (const degrees of [0, 1, 5, 10, 20, 30]) {
      const theta = degrees * RAD_PER_DEG;
      expect(Math.abs(amplitudeFactor(theta) - exactFactor(theta))).toBeLessThan(2e-5);
    }
  });
});

describe('periodFromTaps', () => {
  it('divides by the swings and takes the amplitude off', () => {
    const period = periodFromTaps(26, 20, 10 * RAD_PER_DEG);
    if ('reason' in period) throw new Error(period.reason);
    // 1.3 s over 1 + (10 deg)^2 / 16 = 1.001904 and a term of 3e-6
    expect(period.periodS).toBeCloseTo(1.29753, 5);
    // two taps of 0.1 s over 20 swings, by hand: 7.1 ms; the amplitude adds next to nothing
    expect(period.periodSE).toBeCloseTo(0.0072, 4);
  });

  it('asks again rather than believe nonsense', () => {
    const reasonOf = (...given: Parameters<typeof periodFromTaps>) => {
      const answer = periodFromTaps(...given);
      return 'reason' in answer ? answer.reason : 'a period';
    };
    expect(reasonOf(5, 4, 0.1)).toContain('at least 5 whole swings');
    expect(reasonOf(5, 10.5, 0.1)).toContain('at least 5 whole swings');
    expect(reasonOf(0, 10, 0.1)).toContain('No time');
    expect(reasonOf(Number.NaN, 10, 0.1)).toContain('No time');
    expect(reasonOf(13, 10, 0.6)).toContain('too wide');
    expect(reasonOf(13, 10, Number.NaN)).toContain('too wide');
  });
});
