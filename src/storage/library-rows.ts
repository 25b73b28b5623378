import type { SetDescription } from '../core/recording/set-description.ts';
import type { Condition } from '../core/recording/set-record.ts';

/** A player as their latest set has them. Lengths in metres. */
export interface PlayerRow
  extends Pick<SetDescription, 'player' | 'handedness' | 'armEstimatedFromStatureM'> {
  readonly upperArmM: number;
  readonly forearmM: number;
  /** From shoulder and elbow to the sensors. */
  readonly upperArmSensorM: number;
  readonly forearmSensorM: number;
  /** Start of that set, milliseconds since 1970 (UTC). */
  readonly seenMs: number;
}

/** An implement as it was last swung, from the wrist, metres. */
export interface ImplementRow {
  readonly implement: string;
  readonly lengthM: number;
  readonly sensorM: number;
  readonly seenMs: number;
}

/** A ball that was played. */
export interface BallRow {
  readonly ball: string;
  readonly seenMs: number;
}

/** Who and what has been in sets, latest first. */
export interface Library {
  readonly players: readonly PlayerRow[];
  readonly implements: readonly ImplementRow[];
  readonly balls: readonly BallRow[];
}

/** What one set tells of its player and kit. @param conditions of its blocks, the first one's included */
export function libraryOf(description: SetDescription, conditions: readonly Condition[]): Library {
  const { player, handedness, lengthsM, sensorFromJointM, armEstimatedFromStatureM } = description;
  const seenMs = description.startedAtMs;
  return {
    players: [
      {
        player,
        handedness,
        ...(armEstimatedFromStatureM === undefined ? {} : { armEstimatedFromStatureM }),
        upperArmM: lengthsM.upperArm,
        forearmM: lengthsM.forearm,
        upperArmSensorM: sensorFromJointM.upperArm,
        forearmSensorM: sensorFromJointM.forearm,
        seenMs,
      },
    ],
    implements: conditions.map(({ implement, implementLengthM, implementSensorFromWristM }) => ({
      implement,
      lengthM: implementLengthM,
      sensorM: implementSensorFromWristM,
      seenMs,
    })),
    balls: conditions.map(({ ball }) => ({ ball, seenMs })),
  };
}
