import { expect, test } from 'vitest';
import { DEG_PER_RAD } from '../../src/core/maths/angles.ts';
import { classifyByScore, usualThresholds } from '../../src/core/measures/accuracy-classes.ts';
import { accuracySplit } from '../../src/core/measures/accuracy-split.ts';
import { answered } from '../statistics/answers.ts';
import { ALONG, type Ball, ballsAsSwings, ballsOf, REACH_PER_DEGREE } from './scored-players.ts';

const OPTIONS = { seed: 1, resamples: 500 };

function split(balls: readonly Ball[]) {
  const { swings, angles } = ballsAsSwings(balls, 3);
  const classes = answered(classifyByScore(swings, usualThresholds(10)));
  return accuracySplit(swings, angles, classes, OPTIONS);
}

/** Every third ball accurate, fair, poor. */
const POINTS = [10, 6, 1];
const signature = (n: number): Ball[] => {
  let i = 0;
  return ballsOf(n, 11, (random) => {
    const points = POINTS[i++ % 3]!;
    const accurate = points === 10;
    return {
      points,
      alongDeg: random.normal(accurate ? 6 : 1.5),
      acrossDeg: random.normal(accurate ? 1.5 : 6),
    };
  });
};

test('accurate balls along the manifold and poor ones across it are told apart', () => {
  const found = split(signature(60));
  expect(found.counts).toEqual({ accurate: 20, fair: 20, poor: 20 });
  const plane = found.elbowWrist!;
  expect(plane.manifoldRad).toBeCloseTo(Math.atan(ALONG[1] / ALONG[0]), 2);
  expect(answered(plane.accurateToManifold).value * DEG_PER_RAD).toBeLessThan(15);
  expect(answered(plane.poorToManifold).value * DEG_PER_RAD).toBeGreaterThan(75);
  expect(answered(plane.accurateToPoor).high * DEG_PER_RAD).toBeCloseTo(90, 6);
  expect(answered(found.spread!.along).low).toBeGreaterThan(1);
  expect(answered(found.spread!.across).high).toBeLessThan(1);
  expect(found.verdict.answer).toBe('crossed');
  // Segments turn with the whole arm, by 6 degrees: nearly along the diagonal of upper arm and forearm.
  const turned = answered(found.segments!.upperArmForearm.accurate).ellipse;
  expect(answered(turned.angleRad)).toBeGreaterThan(0.4);
  expect(answered(turned.angleRad)).toBeLessThan(1.2);
  expect(answered(found.segments!.forearmImplement.poor).ellipse.n).toBe(20);
  // Known shapes: 6 and 1.5 degrees, each within four standard errors of an SD of 20.
  const { ellipse } = answered(plane.ellipses.accurate);
  expect(Math.abs(ellipse.majorSd * DEG_PER_RAD - 6)).toBeLessThan((4 * 6) / Math.sqrt(40));
});

test('reach of the classes, and its difference in units of its spread', () => {
  const balls = Array.from({ length: 40 }, (_, i) => ({
    points: i < 20 ? 10 : 0,
    alongDeg: 0,
    acrossDeg: (i < 20 ? 0.15 : -0.15) + (i % 2 === 0 ? 0.1 : -0.1),
  }));
  const found = split(balls);
  const [accurate, poor] = [answered(found.meanReachM.accurate), answered(found.meanReachM.poor)];
  expect((accurate.value - poor.value) / REACH_PER_DEGREE).toBeCloseTo(0.3, 3);
  // d = 3 / sqrt(20/19), times J(38) = 0.9801 (1 - 3/(4 m - 1)).
  expect(answered(found.reachDifference).value).toBeCloseTo((3 / Math.sqrt(20 / 19)) * 0.9801, 1);
  expect(found.meanReachM.fair).toEqual({ reason: 'too-few', need: 2, have: 0 });
});

test('empty and small classes and sets say why', () => {
  const onlyGood = split(
    ballsOf(30, 1, (r) => ({ points: 10, alongDeg: r.normal(3), acrossDeg: r.normal(3) })),
  );
  expect(onlyGood.elbowWrist!.accurateToPoor).toEqual({ reason: 'too-few', need: 10, have: 0 });
  expect(onlyGood.elbowWrist!.ellipses.poor).toEqual({ reason: 'too-few', need: 3, have: 0 });
  expect(onlyGood.reachDifference).toEqual({ reason: 'too-few', need: 2, have: 0 });
  expect(onlyGood.verdict).toEqual({
    n: 30,
    minimumN: 10,
    answer: 'unknown',
    words:
      'Not known whether the arm varies differently on accurate and poor balls: accurate and poor balls are compared, 10 of each at least; of the rarer there are 0.',
  });
  for (const n of [1, 2, 12]) expect(split(signature(n)).verdict.answer).toBe('unknown');
  const classes = answered(classifyByScore([], usualThresholds(10)));
  const none = accuracySplit([], { reason: 'too-few', need: 1, have: 0 }, classes, OPTIONS);
  expect([none.n, none.elbowWrist, none.verdict.answer]).toEqual([0, null, 'unknown']);
  const still = split(
    Array.from({ length: 30 }, (_, i) => ({
      points: i % 2 === 0 ? 10 : 0,
      alongDeg: 0,
      acrossDeg: 0,
    })),
  );
  expect(still.verdict.words).toContain('all swings are alike');
  expect(still.meanReachM.accurate).toEqual({ reason: 'no-spread' });
});
