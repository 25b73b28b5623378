import { describe, expect, it } from 'vitest';
import { estimateSegmentLengths } from '../../src/core/arm/segment-lengths.ts';

describe('estimateSegmentLengths', () => {
  it('gives .186, .146 and .108 of a stature of 1.28 m, and says that it estimates', () => {
    // reference.md E: H = 1.28 m gives .23808, .18688, .13824 (Drillis & Contini by way of Winter).
    const { upperArmM, forearmM, handM, isEstimate } = estimateSegmentLengths(1.28);
    expect(upperArmM).toBeCloseTo(0.23808, 12);
    expect(forearmM).toBeCloseTo(0.18688, 12);
    expect(handM).toBeCloseTo(0.13824, 12);
    expect(isEstimate).toBe(true);
  });

  it.each([0.7, 2.3])('takes a stature of %f m', (statureM) => {
    expect(estimateSegmentLengths(statureM).upperArmM).toBeGreaterThan(0);
  });

  it.each([0, -1.28, 0.69, 2.31, 128, 4.2, Number.NaN, Number.POSITIVE_INFINITY])(
    'refuses a stature of %f and says which are possible',
    (statureM) => {
      expect(() => estimateSegmentLengths(statureM)).toThrow(/0\.7 to 2\.3 m.*in metres/);
    },
  );
});
