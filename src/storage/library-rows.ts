import type { SetDescription } from '../core/recording/set-description.ts';
import type { Condition } from '../core/recording/set-record.ts';
import type { BallMeasures, ImplementMeasures } from './kit-rows.ts';

/** A player as their latest set, or the coach since, has them. Lengths in metres. */
export interface PlayerRow
  extends Pick<
    SetDescription,
    'player' | 'handedness' | 'consentOn' | 'statureM' | 'armEstimatedFromStatureM'
  > {
  readonly upperArmM: number;
  readonly forearmM: number;
  /** From shoulder and elbow to the sensors. */
  readonly upperArmSensorM: number;
  readonly forearmSensorM: number;
  /** Start of that set, or when the coach said so, milliseconds since 1970 (UTC). */
  readonly seenMs: number;
}

/** An implement as it was last swung, or the coach since has it; from the wrist, metres. */
export interface ImplementRow extends ImplementMeasures {
  readonly implement: string;
  readonly lengthM: number;
  readonly sensorM: number;
  readonly seenMs: number;
}

/** A ball that was played, or that the coach has. */
export interface BallRow extends BallMeasures {
  readonly ball: string;
  readonly seenMs: number;
}

/** Who and what has been in sets, latest first. */
export interface Library {
  readonly players: readonly PlayerRow[];
  readonly implements: readonly ImplementRow[];
  readonly balls: readonly BallRow[];
}

/**
 * What one set tells of its player and kit. The simulated player is nobody to be chosen again.
 * @param conditions of its blocks, the first one's included
 */
export function libraryOf(description: SetDescription, conditions: readonly Condition[]): Library {
  const seenMs = description.startedAtMs;
  return {
    players: description.source === 'simulated' ? [] : [playerOf(description)],
    implements: conditions.map(({ implement, implementLengthM, implementSensorFromWristM }) => ({
      implement,
      lengthM: implementLengthM,
      sensorM: implementSensorFromWristM,
      seenMs,
    })),
    balls: conditions.map(({ ball }) => ({ ball, seenMs })),
  };
}

function playerOf(description: SetDescription): PlayerRow {
  const { player, handedness, consentOn, statureM, armEstimatedFromStatureM } = description;
  const { lengthsM, sensorFromJointM, startedAtMs } = description;
  return {
    player,
    handedness,
    ...(consentOn === undefined ? {} : { consentOn }),
    ...(statureM === undefined ? {} : { statureM }),
    ...(armEstimatedFromStatureM === undefined ? {} : { armEstimatedFromStatureM }),
    upperArmM: lengthsM.upperArm,
    forearmM: lengthsM.forearm,
    upperArmSensorM: sensorFromJointM.upperArm,
    forearmSensorM: sensorFromJointM.forearm,
    seenMs: startedAtMs,
  };
}

/**
 * A player after one more set: what the set does not say of consent and stature stays as it was known.
 * @returns null when what is known is later than the set
 */
export function playerAfter(told: PlayerRow, known: PlayerRow | undefined): PlayerRow | null {
  if (known === undefined) return told;
  if (known.seenMs > told.seenMs) return null;
  const { consentOn, statureM } = known;
  return {
    ...(consentOn === undefined ? {} : { consentOn }),
    ...(statureM === undefined ? {} : { statureM }),
    ...told,
  };
}

/**
 * An implement or a ball after one more set, which tells nothing but lengths from the wrist: what the coach measured
 * stays.
 * @returns null when what is known is later than the set
 */
export function kitAfter<Row extends ImplementRow | BallRow>(
  told: Row,
  known: Row | undefined,
): Row | null {
  if (known !== undefined && known.seenMs > told.seenMs) return null;
  return { ...known, ...told };
}
