import { describe, expect, test } from 'vitest';
import { DEG_PER_RAD } from '../../src/core/maths/angles.ts';
import { classifyByScore, usualThresholds } from '../../src/core/measures/accuracy-classes.ts';
import { accuracySplit } from '../../src/core/measures/accuracy-split.ts';
import { measureArm } from '../../src/core/measures/measure-arm.ts';
import { measureFunnel } from '../../src/core/measures/measure-funnel.ts';
import { isUnavailable } from '../../src/core/statistics/estimate.ts';
import { answered } from '../statistics/answers.ts';
import { DISTAL_COUPLED, PROXIMAL_FROZEN } from './arm-players.ts';
import {
  FEEDBACK_PLAYERS,
  feedbackVerdicts,
  MANIFOLD_PLAYERS,
  manifoldVerdicts,
  SPLIT_PLAYERS,
} from './score-simulations.ts';
import { ballsAsSwings, ballsOf, FULL_POINTS, pointsFor } from './scored-players.ts';
import { swingsOf, type VirtualArm } from './virtual-arms.ts';
import { PLAYERS, type VirtualPlayer, virtualSet } from './virtual-players.ts';

/**
 * What people of the trade expect to see, each: common practice, no source. About 40 balls make a condition. Players
 * built to have a signature are read so, players built to lack it are not; how often, over 200 sets a case and at
 * 10, 20 and 40 swings: npm run operating.
 */
const BALLS = 40;
const SETS = 10;
/** Sets of which a clear signature must be read, and those in which chance may show one that is not there. */
const MOST = 8;
const CHANCE = 1;
const OPTIONS = { resamples: 200 };

function count(isShown: (set: number) => boolean): number {
  return Array.from({ length: SETS }, (_, set) => isShown(set)).filter(Boolean).length;
}

describe('spread of reach falls toward contact', () => {
  const shown = (player: VirtualPlayer) =>
    count((set) => {
      const swings = virtualSet(player, BALLS, 500 + set);
      return measureFunnel(swings, { seed: set, ...OPTIONS }).verdict.isShown;
    });

  test('under online control', () => {
    expect(shown(PLAYERS.controlled)).toBeGreaterThanOrEqual(MOST);
  });

  test.each(['ballistic', 'ballistic, arm straightens'] as const)(
    'a pre-programmed swing cannot show it: %s',
    (name) => {
      expect(shown(PLAYERS[name])).toBeLessThanOrEqual(CHANCE);
    },
  );
});

describe('accurate and poor balls differ in the direction of angle variability', () => {
  const found = (player: (typeof SPLIT_PLAYERS)['crossed'], seed: number) => {
    const { swings, angles } = ballsAsSwings(ballsOf(BALLS, seed, player), seed);
    const classes = classifyByScore(swings, usualThresholds(FULL_POINTS));
    if (isUnavailable(classes)) throw new Error('no classes');
    return accuracySplit(swings, angles, classes, { seed, ...OPTIONS });
  };
  const seesCrossing = (player: (typeof SPLIT_PLAYERS)['crossed']) =>
    count((set) => found(player, 40 + set).verdict.answer.startsWith('crossed'));

  test('good variability lies along the manifold, the two main axes near right angles', () => {
    expect(seesCrossing(SPLIT_PLAYERS.crossed)).toBeGreaterThanOrEqual(MOST);
    const angle = answered(found(SPLIT_PLAYERS.crossed, 41).elbowWrist!.accurateToPoor);
    expect(DEG_PER_RAD * angle.value).toBeGreaterThan(65);
  });

  test('a player who varies alike on all balls is not credited with it', () => {
    expect(seesCrossing(SPLIT_PLAYERS['alike, along'])).toBeLessThanOrEqual(CHANCE);
  });
});

describe('which part of the arm controls', () => {
  const says = (arm: VirtualArm) => {
    const all = Array.from(
      { length: SETS },
      (_, set) => measureArm(swingsOf(arm, BALLS, 700 + set), { seed: set, ...OPTIONS }).verdicts,
    );
    return (name: keyof (typeof all)[number], answer: string) =>
      all.filter((verdicts) => verdicts[name].answer === answer).length;
  };

  test('scaled equipment: forearm and hand, coupled with the upper arm, the elbow moving', () => {
    const said = says(DISTAL_COUPLED);
    expect(said('share', 'distal')).toBeGreaterThanOrEqual(MOST);
    expect(said('coupling', 'coupled')).toBeGreaterThanOrEqual(MOST);
    expect(said('elbow', 'moving')).toBeGreaterThanOrEqual(MOST);
    expect(said('handOver', 'abrupt')).toBeLessThanOrEqual(CHANCE);
  });

  test('full-size equipment: the upper arm, forearm frozen, an abrupt hand-over before contact', () => {
    const said = says(PROXIMAL_FROZEN);
    expect(said('share', 'proximal')).toBeGreaterThanOrEqual(MOST);
    expect(said('elbow', 'frozen')).toBeGreaterThanOrEqual(MOST);
    expect(said('handOver', 'abrupt')).toBeGreaterThanOrEqual(MOST - 1);
    expect(said('coupling', 'coupled')).toBeLessThanOrEqual(CHANCE);
  });
});

describe('reach on accurate and on poor balls', () => {
  const experiment = { n: BALLS, sets: 50, seed: 3 };

  const rate = (player: keyof typeof FEEDBACK_PLAYERS) =>
    feedbackVerdicts(FEEDBACK_PLAYERS[player], experiment).verdicts.distinct ?? 0;
  const steadied = (player: keyof typeof MANIFOLD_PLAYERS) =>
    manifoldVerdicts(MANIFOLD_PLAYERS[player], experiment).steadied ?? 0;

  // Of 50 sets: chance gives 5 %, two standard errors more are 11 %.
  test('scaled equipment: nearly invariant on accurate, spread on poor ones; full size: alike', () => {
    expect(rate('scaled: steady on accurate balls')).toBeGreaterThan(80);
    expect(rate('full size: spread on all')).toBeLessThanOrEqual(11);
  });

  test('elbow and wrist make up for each other in a player built so, and not in others', () => {
    expect(steadied('make up')).toBeGreaterThan(80);
    expect(steadied('independent, alike')).toBeLessThanOrEqual(11);
    expect(steadied('make it worse')).toBeLessThanOrEqual(11);
  });
});

test('a target gives ten points in the box and fewer with distance', () => {
  const distances = [0, 0.3, 0.5, 0.8, 1.2, 2, 4];
  const points = distances.map(pointsFor);
  expect(points.slice(0, 3)).toEqual([10, 10, 10]);
  for (let i = 3; i < points.length; i++) expect(points[i]).toBeLessThan(points[i - 1]!);
});
