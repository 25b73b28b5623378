import { describe, expect, test } from 'vitest';
import { compareCorrelations } from '../../src/core/statistics/compare-correlations.ts';
import { correlation } from '../../src/core/statistics/correlation.ts';
import { answered, expectNear, PRINTED } from './answers.ts';
import { LAW_SCHOOL } from './law-school.ts';

describe('compareCorrelations', () => {
  test('z and p of two correlations (reference.md B3)', () => {
    const answer = answered(compareCorrelations({ value: 0.8, n: 20 }, { value: 0.5, n: 25 }));
    expectNear(answer.z, 1.701053428, PRINTED);
    expectNear(answer.p, 0.088932955, PRINTED);
    expectNear(answer.value, 0.3, 1e-15);
    // The interval holds 0 where p is above 5 %.
    expect(answer.low).toBeLessThan(0);
    expect(answer.high).toBeGreaterThan(0.3);
  });

  test('against a correlation known almost exactly the interval is that of the other', () => {
    const lawSchool = answered(correlation(LAW_SCHOOL.score, LAW_SCHOOL.grade));
    const answer = answered(compareCorrelations(lawSchool, { value: 0, n: 1e9 }));
    // Fisher's interval of the law schools, reference.md B3
    expect(answer.low).toBeCloseTo(0.438510824963, 6);
    expect(answer.high).toBeCloseTo(0.921964755965, 6);
  });

  test('turned round, everything changes its sign', () => {
    const [a, b] = [
      { value: 0.8, n: 20 },
      { value: -0.2, n: 12 },
    ] as const;
    const [there, back] = [
      answered(compareCorrelations(a, b)),
      answered(compareCorrelations(b, a)),
    ];
    expectNear(back.z, -there.z, 1e-14);
    expectNear(back.low, -there.high, 1e-14);
    expectNear(back.p, there.p, 1e-14);
  });

  test('has no answer for few pairs or a perfect correlation', () => {
    const fine = { value: 0.5, n: 10 };
    expect(compareCorrelations(fine, { value: 0.5, n: 3 })).toEqual({
      reason: 'too-few',
      need: 4,
      have: 3,
    });
    expect(compareCorrelations({ value: 1, n: 10 }, fine)).toEqual({ reason: 'no-spread' });
    expect(() => compareCorrelations({ value: 1.1, n: 10 }, fine)).toThrow(RangeError);
  });
});
