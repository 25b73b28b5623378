import { describe, expect, test } from 'vitest';
import { logBootstrapInterval } from '../../src/core/statistics/log-bootstrap-interval.ts';
import { meanInterval } from '../../src/core/statistics/mean-interval.ts';
import { takeRows } from '../../src/core/statistics/resampling.ts';
import { answered } from './answers.ts';
import { MICE } from './mice.ts';

const VALUES = [...MICE.treated, ...MICE.control].map((days) => days / 100);
const N = VALUES.length;
const mean = (rows: Int32Array) => takeRows(VALUES, rows).reduce((sum, x) => sum + x, 0) / N;
/** With the denominator n, whose bootstrap bias is known exactly: E* v = v (n - 1)/n. */
const variance = (rows: Int32Array) => {
  const centre = mean(rows);
  return takeRows(VALUES, rows).reduce((sum, x) => sum + (x - centre) ** 2, 0) / N;
};
const OPTIONS = { seed: 1, resamples: 20_000 };
const EVERYONE = Int32Array.from(VALUES, (_, i) => i);

describe('logBootstrapInterval', () => {
  test("of exp(mean) is exp of Student's interval", () => {
    const found = answered(logBootstrapInterval([N], (rows) => Math.exp(mean(rows!)), OPTIONS));
    const student = answered(meanInterval(VALUES));
    const se = (student.high - student.value) / 2.13;
    // An SD of 20 000 resamples errs by 0.5 %, times t = 2.13, their mean by 0.7 % of the SE: five of each are 0.09 SE.
    expect(Math.abs(Math.log(found.low) - student.low)).toBeLessThan(0.09 * se);
    expect(Math.abs(Math.log(found.high) - student.high)).toBeLessThan(0.09 * se);
    expect(found.value).toBeCloseTo(Math.exp(student.value), 12);
    expect(found.n).toBe(N);
  });

  test('takes the bias off: exp(variance with n) is centred on variance (n + 1)/n', () => {
    const found = answered(logBootstrapInterval([N], (rows) => Math.exp(variance(rows!)), OPTIONS));
    const centre = (Math.log(found.low) + Math.log(found.high)) / 2;
    const half = (Math.log(found.high) - Math.log(found.low)) / 2;
    const expected = (variance(EVERYONE) * (N + 1)) / N;
    // Mean of 20 000 resamples: 0.7 % of the SE, which is half / 2.2.
    expect(Math.abs(centre - expected)).toBeLessThan((5 * 0.007 * half) / 2.2);
  });

  test('says why there is none, and what makes no sense throws', () => {
    expect(logBootstrapInterval([9], () => 1, OPTIONS)).toEqual({
      reason: 'too-few',
      need: 10,
      have: 9,
    });
    expect(logBootstrapInterval([12], () => 0, OPTIONS)).toEqual({ reason: 'no-spread' });
    const often = logBootstrapInterval([12], (rows) => new Set(rows).size / 12 - 0.7, {
      seed: 2,
      resamples: 200,
    });
    expect(often).toMatchObject({ reason: 'unstable', of: 200 });
    expect(() => logBootstrapInterval([12], () => 1, { seed: 1, resamples: 5 })).toThrow(
      RangeError,
    );
    expect(() => logBootstrapInterval([12], () => 1, { seed: 1, level: 95 })).toThrow(RangeError);
  });
});
