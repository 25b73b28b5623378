import { describe, expect, test } from 'vitest';
import { seededRandom } from '../../src/core/maths/random.ts';
import { type OrderedSwing, orderEffects } from '../../src/core/measures/order-effects.ts';
import { answered } from '../statistics/answers.ts';
import { swingOfReach } from './hand-made-swings.ts';

const TEMPLATE = swingOfReach(() => 0.9);

interface Hit {
  readonly reachM: number;
  readonly speedMS: number;
  readonly points: number | null;
}

function swing({ reachM, speedMS, points }: Hit): OrderedSwing['swing'] {
  const reachCurveM = TEMPLATE.reachCurveM.slice();
  reachCurveM[100] = reachM;
  return { ...TEMPLATE, reachCurveM, contactSpeedMS: speedMS, points };
}

/** A player whose score falls from place to place and whose reach and speed only vary. */
function tiring(n: number, perSwing: number, seed: number, level = (_: number) => 0) {
  const random = seededRandom(seed);
  return Array.from({ length: n }, (_, i) =>
    swing({
      reachM: 0.9 + level(i) / 10 + random.normal(0.02),
      speedMS: 10 + level(i) + random.normal(0.8),
      points: Math.min(
        10,
        Math.max(0, Math.round(7 + level(i) + perSwing * i + random.normal(1.5))),
      ),
    }),
  );
}

const inOne = (swings: OrderedSwing['swing'][]): OrderedSwing[] =>
  swings.map((swing) => ({ swing, condition: 'one' }));

test('a score that falls by a tenth of a point with every swing is seen, and only that', () => {
  const found = orderEffects(inOne(tiring(40, -0.1, 3)), { seed: 1 });
  expect(found.score.verdict.answer).toBe('falls');
  expect(found.score.verdict.words).toBe('The score falls as the set goes on.');
  expect(found.reach.verdict.words).toBe('Reach: no drift seen.');
  expect(found.speed.verdict.answer).toBe('none');
  const change = answered(found.score.overSet);
  expect(change.low).toBeLessThan(-3.9);
  expect(change.high).toBeGreaterThan(-3.9);
});

test('a straight line is recovered exactly, with void swings in the middle and balls not scored', () => {
  const swings = Array.from({ length: 16 }, (_, i) =>
    i === 5 || i === 6
      ? null
      : swing({ reachM: 0.8 + 0.001 * i, speedMS: 12 - 0.05 * i, points: i === 9 ? null : i / 2 }),
  );
  const found = orderEffects(inOne(swings), { seed: 1 });
  expect(found.reach.n).toBe(14);
  expect(found.score.n).toBe(13);
  expect(answered(found.reach.perSwing).value).toBeCloseTo(0.001, 12);
  expect(answered(found.speed.overSet).value).toBeCloseTo(-0.75, 12);
  expect(found.reach.verdict.answer).toBe('rises');
  expect(found.speed.verdict.words).toBe('Speed falls as the set goes on.');
});

describe('blocks of different kit are no drift', () => {
  // 200 sets: 5 % has a standard error of 1.5 %, 95 % as well.
  test.each([
    ['ABBA', [0, 1, 1, 0], 20],
    ['AB', [0, 0, 1, 1], 20],
    ['AB', [0, 0, 1, 1], 40],
  ] as const)('%s, %j, n = %i', (_, order, n) => {
    const block = (i: number) => order[Math.floor((4 * i) / n)]!;
    let alarms = 0;
    let held = 0;
    for (let set = 0; set < 200; set++) {
      // Two points, 2 m/s and 20 cm between the conditions; no drift.
      const swings = tiring(n, 0, 500 + set, (i) => 2 * block(i));
      const conditions = swings.map((swing, i) => ({ swing, condition: `kit ${block(i)}` }));
      const found = orderEffects(conditions, { seed: set, draws: 199 });
      if (Object.values(found).some(({ verdict }) => verdict.answer !== 'none')) alarms++;
      const { low, high } = answered(found.reach.perSwing);
      if (low <= 0 && high >= 0) held++;
    }
    expect(alarms / 200).toBeLessThanOrEqual(0.05 + 2 * 0.0155);
    expect(held / 200).toBeGreaterThanOrEqual(0.9);
    expect(held / 200).toBeLessThanOrEqual(0.98);
  });
});

test('nothing to read says why, without NaN and without throwing', () => {
  for (const n of [0, 1, 2, 9]) {
    const found = orderEffects(inOne(tiring(n, 0, 1)), { seed: 1 });
    expect(found.reach.verdict.words).toContain(`${n} of at least 10 swings`);
    expect(found.reach.verdict.answer).toBe('unknown');
  }
  const constant = inOne(
    Array.from({ length: 20 }, (_, i) =>
      swing({ reachM: 0.9, speedMS: Number.NaN, points: 10 - 0 * i }),
    ),
  );
  const found = orderEffects(constant, { seed: 1 });
  expect(found.score.verdict.words).toBe(
    'Not known whether the score drifts: all swings are alike.',
  );
  expect(found.reach.perSwing).toEqual({ reason: 'no-spread' });
  expect(found.speed.verdict.words).toContain('a swing has a value missing');
  const unscored = orderEffects(
    inOne(Array.from({ length: 20 }, (_, i) => swing({ reachM: i, speedMS: i % 7, points: null }))),
    { seed: 1 },
  );
  expect(unscored.score.verdict.words).toContain('0 of at least 10 swings');
  // Each condition at one place only: order and kit cannot be told apart.
  const apart = tiring(12, 0, 2).map((swing, i) => ({ swing, condition: `${i}` }));
  expect(orderEffects(apart, { seed: 1 }).reach.verdict.answer).toBe('unknown');
  for (const words of Object.values(found).map(({ verdict }) => verdict.words))
    expect(words).not.toMatch(/NaN|undefined|Infinity/);
});

// The usual 5 % (Fisher 1925). With 999 rearrangements and Holm over three, p comes in steps of 0.003; these two sets
// lie on either side.
test.each([
  [158, 0.042, 'falls'],
  [96, 0.051, 'none'],
])('set %i, p = %f after Holm: %s', (seed, p, answer) => {
  const { score } = orderEffects(inOne(tiring(12, -0.12, seed)), { seed, draws: 999 });
  expect(score.pHolm).toBeCloseTo(p, 12);
  expect(score.verdict.answer).toBe(answer);
});
