import { describe, expect, test, vi } from 'vitest';
import { seededRandom } from '../../src/core/maths/random.ts';
import {
  APART,
  AT_ELBOW_LIMIT,
  AT_JUMP_LIMIT,
  DISTAL_COUPLED,
  PROXIMAL_FROZEN,
  TIMING_ONLY,
  WHOLE_ARM,
} from './arm-players.ts';
import { jointOutcomes, shareOutcomes } from './arm-simulations.ts';
import { trueCovariance, trueElbowExcursionDeg, trueShares } from './arm-truth.ts';

/**
 * How often the verdicts are right and wrong, by simulation; `npm run operating` does more of it. 150 sets of 10
 * swings, 100 of more, and 200 resamples instead of 2000: the standard error of a rate of 3 % is 1.4 or 1.7 %.
 * False alarms, 3.9 % and less of 800 sets, are to stay at 5 %. Lower bounds of powers lie three standard errors
 * below what 800 sets gave.
 */
// Each test takes a second or two; a machine that does other work beside may take far longer.
vi.setConfig({ testTimeout: 60_000 });

const RESAMPLES = 200;
const SETS = { 10: 150, 20: 100, 40: 100 } as const;
type Size = keyof typeof SETS;

const shareRates = (player: Parameters<typeof shareOutcomes>[0], n: Size) =>
  shareOutcomes(player, { n, sets: SETS[n] }, RESAMPLES);
const jointRates = (player: Parameters<typeof jointOutcomes>[0], n: Size) =>
  jointOutcomes(player, { n, sets: SETS[n] });

describe('shares and hand-over', () => {
  // Of 40 swings nearly all sets are read.
  test.each([
    [10, DISTAL_COUPLED, 'distal', 0.46, 'gradual', 0.67],
    [20, DISTAL_COUPLED, 'distal', 0.88, 'gradual', 0.91],
    [10, PROXIMAL_FROZEN, 'proximal', 0.42, 'abrupt', 0.2],
    [20, PROXIMAL_FROZEN, 'proximal', 0.89, 'abrupt', 0.46],
  ] as const)(
    '%d swings show which part carries the spread, and never the opposite',
    (n, player, share, sharePower, handOver, handOverPower) => {
      const { rate, covered } = shareRates(player, n);
      expect(rate('share', share)).toBeGreaterThanOrEqual(sharePower);
      expect(rate('handOver', handOver)).toBeGreaterThanOrEqual(handOverPower);
      expect(rate('share', share === 'distal' ? 'proximal' : 'distal')).toBe(0);
      expect(rate('handOver', handOver === 'abrupt' ? 'gradual' : 'abrupt')).toBe(0);
      // 90 to 98 %, with two standard errors on either side.
      for (const share of Object.values(covered)) {
        expect(share).toBeGreaterThan(0.9 - 2 * Math.sqrt((0.9 * 0.1) / SETS[n]));
        expect(share).toBeLessThan(0.98 + 2 * Math.sqrt((0.98 * 0.02) / SETS[n]));
      }
    },
  );
});

describe('players at the limits are hardly ever called', () => {
  test('their truth lies on the limits', () => {
    expect(Math.abs(trueShares(APART).distal - 0.5)).toBeLessThan(0.003);
    expect(Math.abs(trueShares(AT_JUMP_LIMIT).handOver - 1 / 3)).toBeLessThan(0.003);
    const random = seededRandom(1);
    const seeds = Array.from({ length: 4000 }, () => [0, 1, 2].map(() => random.normal(1)));
    expect(Math.abs(trueElbowExcursionDeg(AT_ELBOW_LIMIT, seeds) - 20)).toBeLessThan(0.1);
    const [[uu, uf]] = trueCovariance(APART, 1) as [[number, number]];
    expect(Math.abs(uf / uu)).toBeLessThan(1e-12);
    const [[ww, wf]] = trueCovariance(WHOLE_ARM, 1) as [[number, number]];
    expect(Math.abs(wf / ww - 1)).toBeLessThan(1e-12);
  });

  // Of 40 swings they err less (operating table).
  test.each([10, 20] as const)(
    'half of the spread: neither distal nor proximal from %d swings',
    (n) => {
      const { rate } = shareRates(APART, n);
      expect(rate('share', 'distal')).toBeLessThanOrEqual(0.05);
      expect(rate('share', 'proximal')).toBeLessThanOrEqual(0.05);
    },
  );

  test.each([10, 20] as const)(
    'a jump at the limit: neither abrupt nor gradual from %d swings',
    (n) => {
      const { rate } = shareRates(AT_JUMP_LIMIT, n);
      expect(rate('handOver', 'abrupt')).toBeLessThanOrEqual(0.05);
      expect(rate('handOver', 'gradual')).toBeLessThanOrEqual(0.05);
    },
  );

  test.each([10, 40] as const)(
    'an elbow at the limit: neither frozen nor moving from %d swings',
    (n) => {
      const rate = jointRates(AT_ELBOW_LIMIT, n);
      expect(rate('elbow', 'frozen')).toBeLessThanOrEqual(0.05);
      expect(rate('elbow', 'moving')).toBeLessThanOrEqual(0.05);
    },
  );
});

describe('coupling and elbow', () => {
  test.each([
    [10, 0.78],
    [20, 0.98],
  ] as const)('coupled segments and a moving elbow are read from %d swings', (n, power) => {
    const rate = jointRates(DISTAL_COUPLED, n);
    expect(rate('coupling', 'coupled')).toBeGreaterThanOrEqual(power);
    expect(rate('elbow', 'moving')).toBe(1);
  });

  test('a frozen elbow is read from 10 swings, and no coupling', () => {
    const rate = jointRates(PROXIMAL_FROZEN, 10);
    expect(rate('elbow', 'frozen')).toBe(1);
    expect(rate('coupling', 'coupled')).toBeLessThanOrEqual(0.05);
  });

  const uncoupled = [
    ['segments independent in space', APART],
    ['an arm that turns as a whole', WHOLE_ARM],
    ['one course met early or late', TIMING_ONLY],
  ] as const;
  test.each(
    uncoupled.flatMap(([name, player]) =>
      ([10, 40] as const).map((n) => [name, n, player] as const),
    ),
  )('%s: not called coupled from %d swings', (_, n, player) => {
    expect(jointRates(player, n)('coupling', 'coupled')).toBeLessThanOrEqual(0.05);
  });
});
