import type { Random } from '../../src/core/maths/random.ts';
import { seededRandom } from '../../src/core/maths/random.ts';
import { classifyByScore, usualThresholds } from '../../src/core/measures/accuracy-classes.ts';
import { accuracySplit } from '../../src/core/measures/accuracy-split.ts';
import { feedbackDistinctness } from '../../src/core/measures/feedback-distinctness.ts';
import { manifoldThroughSwing } from '../../src/core/measures/manifold-through-swing.ts';
import { sweetSpot } from '../../src/core/measures/sweet-spot.ts';
import { isUnavailable } from '../../src/core/statistics/estimate.ts';
import { answered } from '../statistics/answers.ts';
import {
  ACROSS,
  ALONG,
  type Ball,
  ballsAsSwings,
  ballsOf,
  FULL_POINTS,
  pointsFor,
  REACH_PER_DEGREE,
} from './scored-players.ts';

/**
 * Players with and without each signature, for counting how often a verdict is right. What a signature looks like
 * is common practice without a source: accurate and poor balls vary across each other, accurate ones along the
 * manifold; a sweet spot exists; reach is steady on accurate balls and spread on the others.
 */
export interface Experiment {
  readonly n: number;
  readonly sets: number;
  readonly seed: number;
}

const RESAMPLES = 199;
/** 45 of 100 balls accurate, 15 fair, 40 poor. */
const anyPoints = (random: Random): number => {
  const u = random.uniform(0, 1);
  return u < 0.45 ? FULL_POINTS : u < 0.6 ? 6 : 2;
};

type Player = (random: Random) => Ball;
const regardless =
  (along: number, across: number): Player =>
  (random) => ({
    points: anyPoints(random),
    alongDeg: random.normal(along),
    acrossDeg: random.normal(across),
  });
/** SDs along and across on accurate balls, and on all others. */
const byPoints =
  (accurate: readonly [number, number], others: readonly [number, number]): Player =>
  (random) => {
    const points = anyPoints(random);
    const [along, across] = points === FULL_POINTS ? accurate : others;
    return { points, alongDeg: random.normal(along), acrossDeg: random.normal(across) };
  };

/** Directions of variability by class, SDs in degrees. */
export const SPLIT_PLAYERS = {
  crossed: byPoints([6, 2], [2, 6]),
  'crossed, weaker': byPoints([5, 2], [3, 5]),
  'alike, round': regardless(4, 4),
  'alike, along': regardless(6, 2),
  'alike, across': regardless(2, 6),
  'poor wider': byPoints([3, 1.5], [6, 3]),
  'poor wider, round': byPoints([2.5, 2.5], [5, 5]),
  /** The arm varies alike on all balls, and its reach decides the score. */
  'selected by reach': (random: Random): Ball => {
    const acrossDeg = random.normal(4);
    return {
      alongDeg: random.normal(4),
      acrossDeg,
      points: pointsFor((acrossDeg * REACH_PER_DEGREE) / 0.01 + random.normal(0.3)),
    };
  },
} satisfies Record<string, Player>;

/** Elbow and wrist at contact. */
export const MANIFOLD_PLAYERS = {
  'make up': regardless(5, 2),
  'make up, weakly': regardless(4, 2.5),
  'independent, alike': regardless(4, 4),
  'independent, wrist more': (random: Random): Ball =>
    fromJoints(random.normal(1.5), random.normal(6)),
  'independent, elbow more': (random: Random): Ball =>
    fromJoints(random.normal(6), random.normal(1.5)),
  'make it worse': regardless(2, 5),
} satisfies Record<string, Player>;

function fromJoints(elbowDeg: number, wristDeg: number): Ball {
  return {
    points: 5,
    alongDeg: elbowDeg * ALONG[0] + wristDeg * ALONG[1],
    acrossDeg: elbowDeg * ACROSS[0] + wristDeg * ACROSS[1],
  };
}

/** Reach and score: mean reach, miss (metres) by reach off the best one, and SD of what else makes balls miss. */
interface ReachPlayer {
  readonly meanM: number;
  readonly missM: (offM: number) => number;
  readonly otherSdM: number;
}

const BEST_REACH_M = 1;
const REACH_SD_M = 0.025;

export const REACH_PLAYERS = {
  'sweet spot': { meanM: 1, missM: (off) => 60 * off, otherSdM: 0.6 },
  'sweet spot, much chance': { meanM: 1, missM: (off) => 60 * off, otherSdM: 1.2 },
  'sweet spot, reach too long': { meanM: 1.012, missM: (off) => 60 * off, otherSdM: 0.6 },
  'sweet spot, lopsided': { meanM: 1, missM: (off) => (off < 0 ? 40 : 90) * off, otherSdM: 0.6 },
  flat: { meanM: 1, missM: () => 0, otherSdM: 1.2 },
  'flat, mostly full points': { meanM: 1, missM: () => 0, otherSdM: 0.4 },
  'rises and stays': { meanM: 1, missM: (off) => 60 * Math.min(0, off), otherSdM: 0.6 },
  'rises late and stays': { meanM: 0.985, missM: (off) => 60 * Math.min(0, off), otherSdM: 0.6 },
  rises: { meanM: 0.93, missM: (off) => 30 * off, otherSdM: 0.6 },
} satisfies Record<string, ReachPlayer>;

/** Reach by class of ball: SD on accurate and on all others, metres. */
export const FEEDBACK_PLAYERS = {
  'scaled: steady on accurate balls': [0.008, 0.03],
  'scaled, less clear': [0.012, 0.025],
  'full size: spread on all': [0.025, 0.025],
  'steady on all': [0.006, 0.006],
} satisfies Record<string, readonly [number, number]>;

/** Share of each verdict, in per cent. */
export type Shares = Record<string, number>;

export function splitVerdicts(player: Player, { n, sets, seed }: Experiment): Shares {
  return shares(sets, (s) => {
    const { swings, angles } = ballsAsSwings(ballsOf(n, seed + 7919 * s, player), s);
    const classes = answered(classifyByScore(swings, usualThresholds(FULL_POINTS)));
    return accuracySplit(swings, angles, classes, { seed: s, resamples: RESAMPLES }).verdict.answer;
  });
}

export function manifoldVerdicts(player: Player, { n, sets, seed }: Experiment): Shares {
  return shares(sets, (s) => {
    const { swings, angles } = ballsAsSwings(ballsOf(n, seed + 7919 * s, player), s);
    // Classes have no part in the verdict.
    const classes = answered(classifyByScore([], usualThresholds(FULL_POINTS)));
    const found = manifoldThroughSwing(swings, angles, classes, { seed: s, draws: RESAMPLES });
    return isUnavailable(found) ? 'unknown' : found.verdict.answer;
  });
}

export interface ReachOutcome {
  readonly verdicts: Shares;
  /** Of the sets in which a sweet spot was found, in per cent. */
  readonly covered: number;
}

export function sweetSpotVerdicts(
  player: ReachPlayer,
  { n, sets, seed }: Experiment,
): ReachOutcome {
  let found = 0;
  let covered = 0;
  const verdicts = shares(sets, (s) => {
    const { reachM, points } = reachesOf(player, n, seed + 7919 * s);
    const { place, verdict } = sweetSpot(reachM, points, { seed: s, resamples: RESAMPLES });
    if (place) {
      found++;
      if (place.bestM.low <= BEST_REACH_M && BEST_REACH_M <= place.bestM.high) covered++;
    }
    return verdict.answer;
  });
  return { verdicts, covered: (100 * covered) / found };
}

export interface FeedbackOutcome {
  readonly verdicts: Shares;
  /** Sets whose interval of the SD ratio holds the true one, in per cent. */
  readonly covered: number;
}

export function feedbackVerdicts(
  [accurateSd, otherSd]: readonly [number, number],
  { n, sets, seed }: Experiment,
): FeedbackOutcome {
  let known = 0;
  let covered = 0;
  const verdicts = shares(sets, (s) => {
    const random = seededRandom(seed + 7919 * s);
    const points = Array.from({ length: n }, () => anyPoints(random));
    const reach = points.map((p) => 1 + random.normal(p === FULL_POINTS ? accurateSd : otherSd));
    const swings = points.map((p) => ({ points: p }));
    const classes = answered(classifyByScore(swings, usualThresholds(FULL_POINTS)));
    const { sdRatio, verdict } = feedbackDistinctness(reach, classes);
    if (!isUnavailable(sdRatio)) {
      known++;
      const truth = accurateSd / otherSd;
      if (sdRatio.low <= truth && truth <= sdRatio.high) covered++;
    }
    return verdict.answer;
  });
  return { verdicts, covered: (100 * covered) / known };
}

/** Mean cross-validated area under the ROC curve, and how often its interval lies above one half, in per cent. */
export function tellsPoorOutcome(player: ReachPlayer, { n, sets, seed }: Experiment) {
  let known = 0;
  let sum = 0;
  let above = 0;
  for (let s = 0; s < sets; s++) {
    const { reachM, points } = reachesOf(player, n, seed + 7919 * s);
    const swings = Array.from(points, (p) => ({ points: p }));
    const classes = answered(classifyByScore(swings, usualThresholds(FULL_POINTS)));
    const { tellsPoor } = feedbackDistinctness(reachM, classes);
    if (isUnavailable(tellsPoor)) continue;
    known++;
    sum += tellsPoor.value;
    if (tellsPoor.low > 0.5) above++;
  }
  return { known, mean: sum / known, above: (100 * above) / known };
}

function reachesOf({ meanM, missM, otherSdM }: ReachPlayer, n: number, seed: number) {
  const random = seededRandom(seed);
  const reachM = Float64Array.from({ length: n }, () => meanM + random.normal(REACH_SD_M));
  const points = reachM.map((r) => pointsFor(missM(r - BEST_REACH_M) + random.normal(otherSdM)));
  return { reachM, points };
}

function shares(sets: number, verdictOf: (set: number) => string): Shares {
  const counts: Shares = {};
  for (let s = 0; s < sets; s++) {
    const verdict = verdictOf(s);
    counts[verdict] = (counts[verdict] ?? 0) + 100 / sets;
  }
  return counts;
}
