import { type Random, seededRandom } from '../../src/core/maths/random.ts';
import { classifyByScore, usualThresholds } from '../../src/core/measures/accuracy-classes.ts';
import { armAngles } from '../../src/core/measures/arm-angles.ts';
import { carryOverCurve } from '../../src/core/measures/carry-over.ts';
import { coupling } from '../../src/core/measures/coupling.ts';
import { effectiveDimension } from '../../src/core/measures/effective-dimension.ts';
import { feedbackDistinctness } from '../../src/core/measures/feedback-distinctness.ts';
import { freezing } from '../../src/core/measures/freezing.ts';
import { geometryNull } from '../../src/core/measures/geometry-null.ts';
import { landingError } from '../../src/core/measures/landing-error.ts';
import { manifoldThroughSwing } from '../../src/core/measures/manifold-through-swing.ts';
import type { MeasuredSwing } from '../../src/core/measures/measured-swing.ts';
import { midToContact, narrowingRatio } from '../../src/core/measures/narrowing.ts';
import { reachAtContact } from '../../src/core/measures/reach-at-contact.ts';
import { reachInPercent } from '../../src/core/measures/reach-table.ts';
import { scoreOfSet } from '../../src/core/measures/score.ts';
import { stateSpaceArea } from '../../src/core/measures/state-space-area.ts';
import { fitSwingTiming } from '../../src/core/measures/swing-timing.ts';
import {
  type Estimate,
  isUnavailable,
  type Unavailable,
} from '../../src/core/statistics/estimate.ts';
import { hedgesG } from '../../src/core/statistics/hedges-g.ts';
import { answered } from '../statistics/answers.ts';
import { DISTAL_COUPLED, PROXIMAL_FROZEN } from './arm-players.ts';
import { swingOfReach } from './hand-made-swings.ts';
import { FULL_POINTS, pointsFor } from './scored-players.ts';
import { swingsOf } from './virtual-arms.ts';
import { PLAYERS, virtualSet } from './virtual-players.ts';

/**
 * How often the 95 % interval of each measure of a set holds the truth. Where there is no closed form the truth is
 * the same measure of so many swings that its own error does not count.
 */
export interface CoverageCase {
  readonly name: string;
  readonly truth: () => number;
  /** From a set of n swings, or of n in each class where there are classes. */
  readonly estimate: (n: number, seed: number) => Estimate | Unavailable;
}

type Answer = Estimate | Unavailable;
type SetMeasure = (swings: MeasuredSwing[], seed: number) => Answer;

/** The interval of a larger population would take too long. */
const POPULATION = 4000;
const NO_CLASSES = answered(classifyByScore([], usualThresholds(FULL_POINTS)));

const RESAMPLES = 200;
const narrowing: SetMeasure = (swings, seed) => {
  const found = narrowingRatio(reachInPercent(swings), { seed, resamples: RESAMPLES });
  return isUnavailable(found) ? found : withValue(found.interval, found.ratio);
};
const geometry: SetMeasure = (swings) => {
  const found = geometryNull(swings, reachInPercent(swings), fitSwingTiming(swings));
  return isUnavailable(found) ? found : withValue(found.interval, found.ratio);
};
const ofAngles =
  <T>(
    measure: (angles: Parameters<typeof effectiveDimension>[0]) => T | Unavailable,
    read: (found: T) => Answer,
  ): SetMeasure =>
  (swings) => {
    const angles = armAngles(swings);
    if (isUnavailable(angles)) return angles;
    const found = measure(angles);
    return isUnavailable(found) ? found : read(found);
  };
const manifold =
  (part: 'vUcm' | 'vOrt' | 'deltaVz', elements: 'joints' | 'segments'): SetMeasure =>
  (swings, seed) => {
    const found = manifoldThroughSwing(swings, armAngles(swings), NO_CLASSES, { seed, draws: 99 });
    if (isUnavailable(found)) return found;
    return found.at.at(-1)![elements].all[part];
  };

function withValue(interval: Answer, value: number): Answer {
  return isUnavailable(interval) ? interval : { ...interval, value };
}

function ofPlayer(name: keyof typeof PLAYERS, what: string, measure: SetMeasure): CoverageCase {
  const draw = (n: number, seed: number) => virtualSet(PLAYERS[name], n, seed);
  return fromPopulation(`${what}: ${name}`, draw, measure);
}

function ofArm(arm: typeof DISTAL_COUPLED, what: string, measure: SetMeasure): CoverageCase {
  const name = arm === DISTAL_COUPLED ? 'distal, coupled' : 'proximal, frozen';
  return fromPopulation(`${what}: ${name}`, (n, seed) => swingsOf(arm, n, seed), measure);
}

function fromPopulation(
  name: string,
  draw: (n: number, seed: number) => MeasuredSwing[],
  measure: SetMeasure,
): CoverageCase {
  return {
    name,
    truth: () => answered(measure(draw(POPULATION, 77), 1)).value,
    estimate: (n, seed) => measure(draw(n, 10_000 + 1000 * n + seed), seed),
  };
}

/** Swings whose reach is a sum of independent courses, given by their SDs (metres) at a share of the swing. */
function courses(name: string, sds: readonly ((share: number) => number)[]): CoverageCase {
  const columns = sds.map((sd) => Float64Array.from({ length: 101 }, (_, p) => sd(p / 100)));
  const variance = columns[0]!.map((_, p) => columns.reduce((sum, c) => sum + c[p]! ** 2, 0));
  const plain = swingOfReach(() => 0.9);
  return {
    name: `narrowing ratio: ${name}`,
    truth: () => Math.sqrt(variance[100]! / Math.max(...variance)),
    estimate: (n, seed) => {
      const random = seededRandom(31 * n + 7919 * seed);
      const swings = Array.from({ length: n }, () => {
        const reachCurveM = new Float64Array(101).fill(0.9 + random.normal(0.002));
        for (const column of columns) {
          const size = random.normal(1);
          for (let p = 0; p <= 100; p++) reachCurveM[p]! += size * column[p]!;
        }
        return { ...plain, reachCurveM };
      });
      return narrowing(swings, seed);
    },
  };
}

const bump = (size: number, centre: number, width: number) => (share: number) =>
  size * Math.exp(-0.5 * ((share - centre) / width) ** 2);
/** As wide until 60 %, then falling to two fifths; ten courses one after another. */
const PLATEAU = Array.from({ length: 10 }, (_, k) => (share: number) => {
  const overlap = bump(0.02, k / 9, 0.07)(share);
  return overlap * (share < 0.6 ? 1 : 1 - 1.5 * (share - 0.6));
});

/** Numbers without movement: reach, score, landing. */
function ofNumbers(
  name: string,
  truth: number | (() => number),
  estimate: (n: number, random: Random) => Answer,
): CoverageCase {
  return {
    name,
    truth: () => (typeof truth === 'number' ? truth : truth()),
    estimate: (n, seed) => estimate(n, seededRandom(17 * n + 104_729 * seed)),
  };
}

const HEAVY = (random: Random, sd: number) => {
  let chiSquare = 0;
  for (let k = 0; k < 5; k++) chiSquare += random.normal(1) ** 2;
  return random.normal(sd) * Math.sqrt(3 / chiSquare);
};
/** Reach near a straight arm: it falls off to one side only. */
const SKEWED = (random: Random, sd: number) => (sd * (1 - random.normal(1) ** 2)) / Math.SQRT2;
const NORMAL = (random: Random, sd: number) => random.normal(sd);

const spreadRatio = (shape: typeof NORMAL) => (n: number, random: Random) => {
  const points = Array.from({ length: 2 * n }, (_, i) => (i < n ? FULL_POINTS : 0));
  const reach = points.map((p) => 0.9 + shape(random, p > 0 ? 0.01 : 0.02));
  const classes = classifyByScore(
    points.map((p) => ({ points: p })),
    usualThresholds(FULL_POINTS),
  );
  return feedbackDistinctness(reach, answered(classes)).sdRatio;
};
const pointsOf = (n: number, random: Random, sd: number) =>
  Array.from({ length: n }, () => pointsFor(random.normal(sd)));
const score = (part: 'mean' | 'hitRate', sd: number) => (n: number, random: Random) => {
  const swings = pointsOf(n, random, sd).map((points) => ({ points, landingM: null }));
  return scoreOfSet(swings, answered(classifyByScore(swings, usualThresholds(FULL_POINTS))))[part];
};
const meanPoints = (part: (points: number) => number, sd: number) => () =>
  pointsOf(400_000, seededRandom(5), sd).reduce((sum, p) => sum + part(p), 0) / 400_000;
const landing =
  (shape: typeof NORMAL, part: 'variable' | 'bivariate') =>
  (n: number, random: Random): Answer => {
    const swings = Array.from({ length: n }, () => ({
      landingM: [0.2 + shape(random, 0.5), shape(random, 0.3)] as const,
    }));
    const found = landingError(swings);
    if (isUnavailable(found)) return found;
    return part === 'variable' ? found.beyond.variableM : found.bivariateVariableM;
  };

export const COVERAGE_CASES: readonly CoverageCase[] = [
  courses('four humps', [
    bump(0.02, 0, 0.15),
    bump(0.03, 0.4, 0.15),
    bump(0.015, 0.75, 0.15),
    bump(0.012, 1, 0.15),
  ]),
  courses('plateau', PLATEAU),
  ofPlayer('controlled', 'narrowing ratio', narrowing),
  ofPlayer('ballistic, arm straightens', 'narrowing ratio', narrowing),
  // No interval of few swings holds this one: rare swings far from straight make most of the spread.
  ofPlayer('arm straightens, heavy tails', 'narrowing ratio', narrowing),
  ofPlayer('controlled', 'mean reach', (swings) => reachAtContact(swings).meanM),
  ofPlayer('controlled', 'spread of reach', (swings) => reachAtContact(swings).spreadM),
  ofPlayer('ballistic, heavy tails', 'spread of reach', (swings) => reachAtContact(swings).spreadM),
  ofPlayer(
    'controlled',
    'mid-swing to contact',
    (swings) => midToContact(reachInPercent(swings)).ratio,
  ),
  ofPlayer('ballistic', 'carry-over', (swings) => carryOverCurve(reachInPercent(swings)).fromMid),
  ofPlayer('controlled', 'geometry null', geometry),
  ofPlayer('ballistic, arm straightens', 'geometry null', geometry),
  ofArm(DISTAL_COUPLED, 'coupling in space', (swings) =>
    ofAngles(
      (angles) => coupling(angles, fitSwingTiming(swings)),
      (c) => c.upperArmForearm[100]!,
    )(swings, 0),
  ),
  ofArm(DISTAL_COUPLED, 'elbow excursion', (swings) =>
    ofAngles(
      (angles) => freezing(swings, angles),
      (f) => f.elbowExcursionRad,
    )(swings, 0),
  ),
  ...[DISTAL_COUPLED, PROXIMAL_FROZEN].flatMap((arm) => [
    ofArm(
      arm,
      'dimension of segments',
      ofAngles(effectiveDimension, (d) => d.segments[10]!),
    ),
    ofArm(
      arm,
      'dimension of joints',
      ofAngles(effectiveDimension, (d) => d.joints[10]!),
    ),
    ofArm(
      arm,
      'area of ellipse',
      ofAngles(stateSpaceArea, (a) => a.elbowWrist.ellipseRad2[10]!),
    ),
    ofArm(
      arm,
      'visited area',
      ofAngles(stateSpaceArea, (a) => a.elbowWrist.visitedRad2),
    ),
    ofArm(
      arm,
      'visited area, segments',
      ofAngles(stateSpaceArea, (a) => a.upperArmForearm.visitedRad2),
    ),
    ofArm(arm, 'V_UCM of joints', manifold('vUcm', 'joints')),
    ofArm(arm, 'V_ORT of joints', manifold('vOrt', 'joints')),
    ofArm(arm, 'deltaVz of joints', manifold('deltaVz', 'joints')),
    ofArm(arm, 'deltaVz of segments', manifold('deltaVz', 'segments')),
  ]),
  ofNumbers(
    'mean score, varied',
    meanPoints((p) => p, 1.2),
    score('mean', 1.2),
  ),
  ofNumbers(
    'mean score, mostly full',
    meanPoints((p) => p, 0.4),
    score('mean', 0.4),
  ),
  ofNumbers(
    'hit rate',
    meanPoints((p) => (p === FULL_POINTS ? 1 : 0), 0.6),
    score('hitRate', 0.6),
  ),
  ofNumbers('Hedges g of reach by class', 1, (n, random) =>
    hedgesG(
      Array.from({ length: n }, () => 1 + random.normal(1)),
      Array.from({ length: n }, () => random.normal(1)),
    ),
  ),
  ofNumbers('spread by class: normal', 0.5, spreadRatio(NORMAL)),
  ofNumbers('spread by class: heavy tails', 0.5, spreadRatio(HEAVY)),
  ofNumbers('spread by class: one-sided', 0.5, spreadRatio(SKEWED)),
  ofNumbers('landing, variable: normal', 0.5, landing(NORMAL, 'variable')),
  ofNumbers('landing, variable: heavy tails', 0.5, landing(HEAVY, 'variable')),
  ofNumbers('landing, bivariate: normal', Math.hypot(0.5, 0.3), landing(NORMAL, 'bivariate')),
  ofNumbers('landing, bivariate: heavy tails', Math.hypot(0.5, 0.3), landing(HEAVY, 'bivariate')),
];

/** In per cent: sets with an interval, and of those the ones that hold the truth, lie above it, lie below it. */
export function coverageOf({ estimate }: CoverageCase, truth: number, n: number, sets: number) {
  let [known, held, above, below] = [0, 0, 0, 0];
  for (let set = 0; set < sets; set++) {
    const found = estimate(n, set);
    if (isUnavailable(found)) continue;
    known++;
    if (found.low > truth) above++;
    else if (found.high < truth) below++;
    else held++;
  }
  const percent = (count: number, of: number) => (100 * count) / of;
  return {
    known: percent(known, sets),
    held: percent(held, known),
    above: percent(above, known),
    below: percent(below, known),
  };
}
