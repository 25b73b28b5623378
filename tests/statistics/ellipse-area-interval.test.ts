import { describe, expect, test } from 'vitest';
import { seededRandom } from '../../src/core/maths/random.ts';
import { covarianceEllipse } from '../../src/core/statistics/covariance-ellipse.ts';
import { ellipseAreaInterval } from '../../src/core/statistics/ellipse-area-interval.ts';
import { answered, expectNear, PRINTED } from './answers.ts';

describe('ellipseAreaInterval', () => {
  test('takes the bias off the chi-square ellipse of eight points (reference.md B7)', () => {
    const ellipse = covarianceEllipse([2, 3, 5, 6, 8, 9, 4, 7], [1, 4, 4, 7, 6, 9, 2, 8]);
    const answer = ellipseAreaInterval(answered(ellipse), 0.95);
    expectNear(answer.value, (59.91622637237 * 7) / 6, PRINTED);
    // chi-square with 12 df: 4.403788507 and 23.336664158 (scipy 1.17.1 chi2.ppf)
    expectNear(answer.low, (59.91622637237 * 14) / 23.336664158, 1e-8);
    expectNear(answer.high, (59.91622637237 * 14) / 4.403788507, 1e-8);
    expect(answer).toMatchObject({ n: 8, level: 0.95 });
  });

  test.each([5, 20])('holds the true area of normal points 95 %% of the time, n = %d', (n) => {
    // Exact for normal points; 2000 experiments have a standard error of 0.5 %, allowed are four.
    const random = seededRandom(n);
    const truth = Math.PI * 5.991464547 * 2 * Math.sqrt(3);
    let held = 0;
    let sum = 0;
    for (let i = 0; i < 2000; i++) {
      const x = Array.from({ length: n }, () => random.normal(2));
      // covariance matrix [[4, 2], [2, 4]], root of the determinant 2 sqrt 3
      const y = x.map((value) => value / 2 + random.normal(Math.sqrt(3)));
      const { value, low, high } = ellipseAreaInterval(answered(covarianceEllipse(x, y)), 0.95);
      if (low <= truth && truth <= high) held++;
      sum += value / truth;
    }
    expect(Math.abs(held / 2000 - 0.95)).toBeLessThan(0.02);
    // variance of the area, from chi-square with 2n - 4 df: 2/(2n - 4)
    expect(Math.abs(sum / 2000 - 1)).toBeLessThan(4 * Math.sqrt(2 / (2 * n - 4) / 2000));
  });
});
