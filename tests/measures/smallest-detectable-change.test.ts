import { expect, test } from 'vitest';
import { seededRandom } from '../../src/core/maths/random.ts';
import { detectability } from '../../src/core/measures/smallest-detectable-change.ts';
import {
  splitHalfReliability,
  standardErrorOfMeasurement,
} from '../../src/core/statistics/measurement-error.ts';
import { checkedCovariance } from '../../src/core/statistics/moments.ts';
import { answered, expectNear } from '../statistics/answers.ts';

const sessionsOf = (odd: readonly number[], even: readonly number[]) =>
  odd.map((x, i) => ({ odd: x, even: even[i]!, whole: (x + even[i]!) / 2 }));

test('halves that spread alike give SD sqrt(1 - reliability), Spearman-Brown, 1.96 sqrt(2) SEM', () => {
  // The second half is the first in another order: equal spread, correlation 11/14.
  const odd = [1, 2, 3, 4, 5, 6, 7, 8];
  const even = [2, 1, 4, 3, 6, 5, 8, 7];
  const sessions = sessionsOf(odd, even);
  const found = answered(detectability(sessions));
  const reliability = answered(splitHalfReliability(odd, even));
  expect(answered(found.reliability)).toEqual(reliability);
  // r = 1 - sum d^2/(2 sum (x - mean)^2) = 1 - 8/84, raised 2r/(1 + r).
  expectNear(reliability.value, (2 * (1 - 8 / 84)) / (2 - 8 / 84), 1e-12);
  const whole = sessions.map((session) => session.whole);
  const sd = Math.sqrt(checkedCovariance(whole, whole));
  expectNear(found.sem.value, standardErrorOfMeasurement(sd, reliability.value), 1e-12);
  // SEM = SD(odd - even)/2, differences -1 and 1 in turn.
  expectNear(found.sem.value, Math.sqrt(8 / 7) / 2, 1e-12);
  expectNear(found.change, 1.959963984540054 * Math.SQRT2 * found.sem.value, 1e-12);
});

test('the interval of the error holds its level: six and twenty sessions', () => {
  for (const n of [6, 20]) {
    let held = 0;
    for (let s = 0; s < 400; s++) {
      const random = seededRandom(900 + s);
      const player = Array.from({ length: n }, () => random.normal(2));
      const sessions = sessionsOf(
        player.map((x) => x + random.normal(1)),
        player.map((x) => x + random.normal(1)),
      );
      // The mean of two halves with an error of 1 each.
      const { sem } = answered(detectability(sessions));
      if (sem.low <= Math.SQRT1_2 && Math.SQRT1_2 <= sem.high) held++;
    }
    // 95 % within three standard errors of 400.
    expect(Math.abs(held / 400 - 0.95)).toBeLessThan(0.033);
  }
});

test('too few sessions, and halves that agree, are named', () => {
  for (const n of [0, 1, 2, 5])
    expect(detectability(sessionsOf([1, 2, 3, 4, 5].slice(0, n), [1, 3, 2, 5, 4]))).toEqual({
      reason: 'too-few',
      need: 6,
      have: n,
    });
  const same = [1, 2, 3, 4, 5, 6];
  expect(detectability(sessionsOf(same, same))).toEqual({ reason: 'no-spread' });
  expect(detectability(sessionsOf([...same.slice(1), Number.NaN], same))).toMatchObject({
    reason: 'not-finite',
  });
  // Halves that disagree have reliability 0, and still an error.
  const turned = answered(detectability(sessionsOf(same, same.toReversed())));
  expect(answered(turned.reliability).value).toBe(0);
  expect(turned.change).toBeGreaterThan(0);
});
