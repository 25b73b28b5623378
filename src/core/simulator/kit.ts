import type { PerSegment } from '../arm/segments.ts';
import type { Condition } from '../recording/set-record.ts';
import { reachOf } from './arm-kinematics.ts';
import { CONTACT, radians } from './player-poses.ts';
import type { BallName, ImplementName, Kit } from './session-types.ts';

/**
 * Invented kit of the demo scenario: Player A, nine years, junior squash. Upper arm and forearm from a
 * stature of 1.33 m by the fractions .186 and .146 (Drillis & Contini, as tabulated by Winter).
 */
export const PLAYER_ARM_M = { upperArm: 0.247, forearm: 0.194 } as const;

/** From shoulder, elbow and wrist along the segment to the sensor, metres. */
export const SENSOR_FROM_JOINT_M: PerSegment<number> = {
  upperArm: 0.15,
  forearm: 0.14,
  implement: 0.13,
};

export interface SimulatedImplement {
  readonly words: string;
  /** Wrist to sweet spot with the hand on the grip, metres. */
  readonly wristToSweetSpotM: number;
  /** How much a heavy implement enlarges every movement error. */
  readonly unsteadiness: number;
}

export const IMPLEMENTS: Readonly<Record<ImplementName, SimulatedImplement>> = {
  full: { words: '685 mm racket', wristToSweetSpotM: 0.55, unsteadiness: 1.3 },
  long: { words: '840 mm stick', wristToSweetSpotM: 0.69, unsteadiness: 1.3 },
  short: { words: '580 mm racket', wristToSweetSpotM: 0.45, unsteadiness: 1 },
};

export interface SimulatedBall {
  readonly words: string;
  /** SD of the player's timing error, seconds. */
  readonly timingSdS: number;
}

export const BALLS: Readonly<Record<BallName, SimulatedBall>> = {
  standard: { words: 'standard ball', timingSdS: 0.006 },
  training: { words: 'larger, slower training ball', timingSdS: 0.003 },
};

/** How far off his best reach the invented player still strikes well, metres. */
const BAND_HALF_WIDTH_M = 0.015;

/** Points for the distance from the middle of the target box, best first. */
export const SCORE_STEPS = [10, 8, 6, 4, 2, 0] as const;

/** Upper arm, forearm, implement of the invented player, metres, shape (3). */
export function lengthsOf({
  implement,
}: Pick<Kit, 'implement'>): readonly [number, number, number] {
  return [PLAYER_ARM_M.upperArm, PLAYER_ARM_M.forearm, IMPLEMENTS[implement].wristToSweetSpotM];
}

/** The condition under which balls are struck with this kit. */
export function conditionOf({ implement, ball }: Kit): Condition {
  return {
    implement: IMPLEMENTS[implement].words,
    ball: BALLS[ball].words,
    feed: '',
    implementLengthM: IMPLEMENTS[implement].wristToSweetSpotM,
    implementSensorFromWristM: SENSOR_FROM_JOINT_M.implement,
    sweetSpotBand: {
      reachM: reachOf(Float64Array.from(radians(CONTACT, false)), lengthsOf({ implement })),
      halfWidthM: BAND_HALF_WIDTH_M,
    },
  };
}

/** The kit that the coach's words name. @param inHand what the player keeps when they name nothing he has */
export function kitNamed(words: Pick<Condition, 'implement' | 'ball'>, inHand: Kit): Kit {
  const implement = (Object.keys(IMPLEMENTS) as ImplementName[]).find(
    (name) => IMPLEMENTS[name].words === words.implement,
  );
  const ball = (Object.keys(BALLS) as BallName[]).find((name) => BALLS[name].words === words.ball);
  return { implement: implement ?? inHand.implement, ball: ball ?? inHand.ball };
}
