import { describe, expect, test } from 'vitest';
import { pearson } from '../../src/core/statistics/correlation.ts';
import { tQuantile } from '../../src/core/statistics/distributions.ts';
import { jackknifeInterval } from '../../src/core/statistics/jackknife-interval.ts';
import { meanInterval } from '../../src/core/statistics/mean-interval.ts';
import { checkedMean } from '../../src/core/statistics/moments.ts';
import { takeRows } from '../../src/core/statistics/resampling.ts';
import { answered, expectNear, PRINTED, ROUNDING } from './answers.ts';
import { LAW_SCHOOL } from './law-school.ts';

describe('jackknifeInterval', () => {
  test("of a mean is Student's (the jackknife of a mean is exact)", () => {
    const x = LAW_SCHOOL.score;
    const jackknife = answered(jackknifeInterval(15, (rows) => checkedMean(takeRows(x, rows))));
    const student = answered(meanInterval(x));
    expectNear(jackknife.low, student.low, ROUNDING);
    expectNear(jackknife.high, student.high, ROUNDING);
    expect(jackknife).toMatchObject({ n: 15, level: 0.95 });
  });

  test('of a correlation has the jackknife standard error of the law schools (reference.md B4)', () => {
    const { score, grade } = LAW_SCHOOL;
    const answer = answered(
      jackknifeInterval(15, (rows) => pearson(takeRows(score, rows), takeRows(grade, rows)), 0.9),
    );
    const half = tQuantile(0.95, 14) * 0.1425186186;
    expectNear(answer.high - answer.value, half, PRINTED);
    expectNear(answer.value - answer.low, half, PRINTED);
  });

  test('has no answer where the statistic has none', () => {
    expect(jackknifeInterval(1, () => 1)).toEqual({ reason: 'too-few', need: 2, have: 1 });
    expect(jackknifeInterval(5, () => ({ reason: 'no-spread' }))).toEqual({ reason: 'no-spread' });
    const needsFive = (rows: Int32Array) => (rows.length < 5 ? Number.NaN : 1);
    expect(jackknifeInterval(5, needsFive)).toEqual({ reason: 'unstable', failed: 5, of: 5 });
  });
});
