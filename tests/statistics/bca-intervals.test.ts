import { describe, expect, test } from 'vitest';
import { seededRandom } from '../../src/core/maths/random.ts';
import { bcaIntervals } from '../../src/core/statistics/bca-intervals.ts';
import { bcaInterval } from '../../src/core/statistics/bootstrap-interval.ts';
import { pearson } from '../../src/core/statistics/correlation.ts';
import { checkedCovariance, checkedMean } from '../../src/core/statistics/moments.ts';
import { takeRows } from '../../src/core/statistics/resampling.ts';
import { smallSampleLevel } from '../../src/core/statistics/small-sample-level.ts';
import { answered } from './answers.ts';
import { LAW_SCHOOL } from './law-school.ts';

const { score, grade } = LAW_SCHOOL;
const correlationOf = (rows: Int32Array) => pearson(takeRows(score, rows), takeRows(grade, rows));
const meanOf = (rows: Int32Array) => checkedMean(takeRows(score, rows));

describe('bcaIntervals', () => {
  test('gives each statistic what bcaInterval gives it, at its own level for few rows', () => {
    const options = { seed: 7, resamples: 500 };
    const answers = bcaIntervals(
      15,
      [0.95, 0.9],
      (rows, out) => {
        out[0] = answered(correlationOf(rows));
        out[1] = meanOf(rows);
      },
      options,
    );
    for (const [k, statistic, level] of [
      [0, correlationOf, 0.95],
      [1, meanOf, 0.9],
    ] as const) {
      const alone = bcaInterval([15], statistic, {
        ...options,
        level: smallSampleLevel(level, 15),
      });
      expect(answers[k]).toEqual({ ...answered(alone), level });
    }
  });

  test('says of each statistic by itself why it has no interval', () => {
    const random = seededRandom(3);
    const x = Float64Array.from({ length: 20 }, () => random.normal(1));
    const answers = bcaIntervals(
      20,
      [0.95, 0.95, 0.95, 0.95, 0.95],
      (rows, out) => {
        const taken = takeRows(x, rows);
        out[0] = checkedCovariance(taken, taken);
        out[1] = Number.NaN;
        out[2] = 3;
        // no value wherever the first row is missing, as in a third of the resamples and in one of twenty
        out[3] = rows.includes(0) ? taken[0]! : Number.NaN;
        out[4] = Math.max(...taken);
      },
      { seed: 1, resamples: 400 },
    );
    expect(answered(answers[0]!)).toMatchObject({ n: 20, level: 0.95 });
    expect(answers[1]).toEqual({ reason: 'no-spread' });
    expect(answers[2]).toEqual({ reason: 'no-spread' });
    expect(answers[3]).toMatchObject({ reason: 'unstable', of: 400 });
    // The largest value is above no resample: ties count half, so an interval there is.
    expect(answered(answers[4]!).high).toBe(Math.max(...x));
  });

  test('too few rows, levels that make no sense', () => {
    const one = (_: Int32Array, out: Float64Array) => {
      out[0] = 1;
    };
    expect(bcaIntervals(9, [0.95], one, { seed: 1 })).toEqual([
      { reason: 'too-few', need: 10, have: 9 },
    ]);
    expect(() => bcaIntervals(20, [95], one, { seed: 1 })).toThrow(RangeError);
  });
});
