import { describe, expect, test } from 'vitest';
import { seededRandom } from '../../src/core/maths/random.ts';
import { narrowingRatio } from '../../src/core/measures/narrowing.ts';
import { reachInPercent } from '../../src/core/measures/reach-table.ts';
import { type Session, trend } from '../../src/core/measures/trend.ts';
import { isUnavailable } from '../../src/core/statistics/estimate.ts';
import { answered } from '../statistics/answers.ts';
import { swingOfReach } from './hand-made-swings.ts';

/** A session: reach about a mean, its spread halved on the way to contact; scores about a mean. */
function session(
  day: number,
  n: number,
  seed: number,
  { score = 6, sdM = 0.02, meanM = 0.9 } = {},
): Session {
  const random = seededRandom(seed);
  return {
    day,
    swings: Array.from({ length: n }, () => {
      const [early, late] = [random.normal(2 * sdM), random.normal(sdM)];
      const points = Math.max(0, Math.min(10, Math.round(score + random.normal(2))));
      return { ...swingOfReach((x) => meanM + (1 - x) * early + x * late), points };
    }),
  };
}

test('a score that rises by half a point a week is seen, and the values are those of each session', () => {
  const sessions = Array.from({ length: 9 }, (_, w) =>
    session(7 * w, 24, 40 + w, { score: 4 + 0.5 * w }),
  );
  const found = trend(sessions, { seed: 1 });
  expect(found.score.answer).toBe('rises');
  expect(found.score.words).toContain('Mean score rises over the weeks');
  const perWeek = answered(found.score.perWeek);
  expect(perWeek.low).toBeLessThan(0.5);
  expect(perWeek.high).toBeGreaterThan(0.5);
  expect(found.spread.words).toContain('shows no trend over the weeks');
  const first = sessions[0]!.swings.flatMap((swing) => swing ?? []);
  const points = first.map((swing) => swing.points!);
  expect(found.score.values[0]).toBeCloseTo(points.reduce((a, b) => a + b, 0) / points.length, 12);
  const ratio = answered(narrowingRatio(reachInPercent(first), { seed: 1, resamples: 100 })).ratio;
  expect(found.narrowing.values[0]).toBeCloseTo(ratio, 12);
});

describe('sessions that differ by chance alone', () => {
  // 200 histories of eight sessions with twenty swings: 5 % has a standard error of 1.5 %.
  const found = Array.from({ length: 200 }, (_, h) =>
    trend(
      Array.from({ length: 8 }, (_, w) => session(7 * w, 20, 10_000 + 100 * h + w)),
      { seed: h, draws: 199 },
    ),
  );
  test('show no trend in some measure at most once in twenty', () => {
    const alarms = found.filter((trends) =>
      Object.values(trends).some(({ answer }) => answer !== 'none'),
    );
    expect(alarms.length / 200).toBeLessThanOrEqual(0.05 + 2 * 0.0155);
  });
  test.each(['meanReach', 'spread', 'narrowing', 'score'] as const)(
    '%s: the last differs from the one before beyond chance about once in twenty',
    (subject) => {
      const changed = found.filter(
        ({ [subject]: { lastChange } }) => !isUnavailable(lastChange) && lastChange.beyondChance,
      );
      expect(changed.length / 200).toBeLessThanOrEqual(0.05 + 3 * 0.0155);
      const held = found.filter(({ [subject]: { perWeek } }) => {
        const { low, high } = answered(perWeek);
        return low <= 0 && high >= 0;
      });
      expect(held.length / 200).toBeGreaterThanOrEqual(0.9);
      expect(held.length / 200).toBeLessThanOrEqual(0.985);
    },
  );
});

test('a change far beyond the error is said', () => {
  const sessions = Array.from({ length: 8 }, (_, w) =>
    session(7 * w, 20, 70 + w, { score: w === 7 ? 9 : 4 }),
  );
  const { score } = trend(sessions, { seed: 1 });
  expect(score.words).toContain('differs from the one before by more than chance');
  expect(answered(score.detectability).change).toBeLessThan(4);
});

// Odd and even swings a point apart, in turns: SEM = SD(odd - even)/2 = sqrt(6/5)/2. Student's t of six sessions, five
// degrees of freedom, is 2.571 at 0.975 (printed tables): the last session must differ by 2.571 sqrt(2) SEM = 1.991.
test.each([
  [1.95, false],
  [-1.95, false],
  [2.05, true],
  [-2.05, true],
])('a last session %f points off differs beyond chance: %s', (change, isBeyond) => {
  const template = swingOfReach(() => 0.9);
  const sessions = Array.from({ length: 6 }, (_, w) => ({
    day: 7 * w,
    swings: Array.from({ length: 10 }, (_, i) => {
      const half = (i + w) % 2 === 0 ? 0.5 : -0.5;
      return { ...template, points: 5 + half + (w === 5 ? change : 0) };
    }),
  }));
  const { lastChange } = trend(sessions, { seed: 1 }).score;
  expect(lastChange).toMatchObject({
    value: expect.closeTo(change, 12),
    beyondChance: isBeyond,
  });
});

// The usual 5 % (Fisher 1925). With 999 rearrangements p comes in steps of 0.001, after Holm of up to 0.004; these two
// histories lie on either side.
test.each([
  [90, 0.048, 'rises'],
  [62, 0.051, 'none'],
])('history %i, p = %f after Holm: %s', (seed, p, answer) => {
  const random = seededRandom(seed);
  const template = swingOfReach(() => 0.9);
  const sessions = Array.from({ length: 8 }, (_, w) => ({
    day: 7 * w,
    swings: Array.from({ length: 10 }, () => ({
      ...template,
      points: 5 + 0.25 * w + random.normal(2),
    })),
  }));
  const { score } = trend(sessions, { seed, draws: 999 });
  expect(score.pHolm).toBeCloseTo(p, 12);
  expect(score.answer).toBe(answer);
});

test('nothing to read says why, without NaN and without throwing', () => {
  expect(trend([], { seed: 1 }).score.words).toBe(
    'Mean score: not known whether it changes over the weeks: 0 of at least 6 sessions with 10 swings or more.',
  );
  const short = Array.from({ length: 8 }, (_, w) => session(7 * w, w % 3, w));
  expect(trend(short, { seed: 1 }).spread.values[1]).toEqual({
    reason: 'too-few',
    need: 10,
    have: 1,
  });
  // Void swings in the middle, a session with a value missing, constant scores, all on one day.
  const odd = Array.from({ length: 8 }, (_, w) => {
    const { day, swings } = session(w, 20, w);
    const broken = swings.map((swing, i) => {
      if (swing === null || i === 7) return null;
      const reachCurveM = swing.reachCurveM.slice();
      if (w === 3 && i === 2) reachCurveM[100] = Number.NaN;
      return { ...swing, reachCurveM, points: 10 };
    });
    return { day, swings: broken };
  });
  const found = trend(odd, { seed: 1 });
  expect(found.meanReach.n).toBe(7);
  expect(found.meanReach.values[3]).toEqual({ reason: 'not-finite', index: 2 });
  expect(found.score.words).toContain('all sessions are alike');
  const sameDay = trend(
    odd.map(({ swings }) => ({ day: 3, swings })),
    { seed: 1 },
  );
  for (const { words } of [...Object.values(found), ...Object.values(sameDay)])
    expect(words).not.toMatch(/NaN|undefined|Infinity/);
});
