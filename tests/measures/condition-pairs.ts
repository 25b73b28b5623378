import { seededRandom } from '../../src/core/maths/random.ts';
import type { MeasuredSwing } from '../../src/core/measures/measured-swing.ts';
import { DISTAL_COUPLED, PROXIMAL_FROZEN } from './arm-players.ts';
import { FULL_POINTS, pointsFor } from './scored-players.ts';
import { swingsOf, type VirtualArm } from './virtual-arms.ts';

/**
 * A player under one condition: how the arm varies, how far a ball misses for each metre that reach is off, and SD of
 * what else makes it miss, metres. All invented.
 */
export interface ConditionPlayer {
  readonly arm: VirtualArm;
  readonly missPerM: number;
  readonly otherSdM: number;
  readonly speedMS: number;
}

const SPEED_SD = 0.8;

/** The arm that scaled kit is meant to bring about: steady reach, on which the score depends. */
export const STEADY: ConditionPlayer = {
  arm: DISTAL_COUPLED,
  missPerM: 130,
  otherSdM: 0.35,
  speedMS: 11,
};

/** The arm that kit too large is meant to bring about: spread reach that says little about the ball. */
export const STIFF: ConditionPlayer = {
  arm: PROXIMAL_FROZEN,
  missPerM: 0,
  otherSdM: 1.15,
  speedMS: 10.5,
};

export const THRESHOLDS = { accurateFrom: FULL_POINTS, fairFrom: FULL_POINTS / 2 };

/** Swings in the population of a player, from which sets are drawn: what they differ by is then known exactly. */
const POPULATION = 1000;
const populations = new Map<ConditionPlayer, MeasuredSwing[]>();

/** All swings of a player, scored. */
export function populationOf(player: ConditionPlayer): MeasuredSwing[] {
  const known = populations.get(player);
  if (known) return known;
  const random = seededRandom(7 + populations.size);
  const swings = swingsOf(player.arm, POPULATION, 100 + populations.size);
  const bestM = swings.reduce((sum, swing) => sum + swing.reachCurveM[100]!, 0) / POPULATION;
  const { missPerM, otherSdM, speedMS } = player;
  const scored = swings.map((swing) => ({
    ...swing,
    contactSpeedMS: speedMS + random.normal(SPEED_SD),
    points: pointsFor(missPerM * (swing.reachCurveM[100]! - bestM) + random.normal(otherSdM)),
  }));
  populations.set(player, scored);
  return scored;
}

/** A set of a player; a longer one with the same seed begins with the same swings. */
export function conditionSet(player: ConditionPlayer, n: number, seed: number): MeasuredSwing[] {
  const population = populationOf(player);
  const random = seededRandom(seed);
  return Array.from({ length: n }, () => population[Math.floor(random.uniform(0, POPULATION))]!);
}
