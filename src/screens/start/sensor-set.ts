import { estimateSegmentLengths } from '../../core/arm/segment-lengths.ts';
import type { SetDescription } from '../../core/recording/set-description.ts';

/** The form of a new set as typed; lengths in centimetres. */
export interface SensorSetEntry {
  readonly player: string;
  readonly handedness: 'left' | 'right';
  readonly implement: string;
  readonly ball: string;
  /** Where the lengths of upper arm and forearm come from. */
  readonly armBy: 'tape' | 'stature';
  /** NaN until it is typed; asked for only without a tape measure. */
  readonly statureCm: number;
  readonly upperArmCm: number;
  readonly forearmCm: number;
  readonly wristToSweetSpotCm: number;
  readonly upperArmSensorCm: number;
  readonly forearmSensorCm: number;
  readonly implementSensorCm: number;
  /** NaN while nobody knows it. */
  readonly hopedReachCm: number;
  readonly halfWidthCm: number;
}

/** The invented player's measures, as a pattern to overwrite. */
export const FIRST_ENTRY: SensorSetEntry = {
  player: 'Player A',
  handedness: 'right',
  implement: '580 mm racket',
  ball: 'Larger, slower training ball',
  armBy: 'tape',
  statureCm: Number.NaN,
  upperArmCm: 25,
  forearmCm: 19.5,
  wristToSweetSpotCm: 45,
  upperArmSensorCm: 15,
  forearmSensorCm: 14,
  implementSensorCm: 13,
  hopedReachCm: Number.NaN,
  halfWidthCm: 3,
};

/** Points for the distance from the middle of the target box, best first. */
const SCORE_STEPS = [10, 8, 6, 4, 2, 0];

/** What a set is called, and when and by which program it was made. */
export type SetHead = Pick<SetDescription, 'setId' | 'startedAtMs' | 'programVersion'>;

/**
 * Description of a set with real sensors, as its file begins.
 * @throws RangeError for an implausible stature, where the arm is estimated from it
 */
export function describeSensorSet(entry: SensorSetEntry, head: SetHead): SetDescription {
  return {
    ...head,
    source: 'sensors',
    player: entry.player.trim(),
    handedness: entry.handedness,
    ...armOf(entry),
    sensorFromJointM: {
      upperArm: entry.upperArmSensorCm / 100,
      forearm: entry.forearmSensorCm / 100,
      implement: entry.implementSensorCm / 100,
    },
    implement: entry.implement.trim(),
    ball: entry.ball.trim(),
    sweetSpotBand: Number.isNaN(entry.hopedReachCm)
      ? null
      : { reachM: entry.hopedReachCm / 100, halfWidthM: entry.halfWidthCm / 100 },
    scoreSteps: SCORE_STEPS,
  };
}

function armOf(
  entry: SensorSetEntry,
): Pick<SetDescription, 'lengthsM' | 'armEstimatedFromStatureM'> {
  const implement = entry.wristToSweetSpotCm / 100;
  if (entry.armBy === 'tape') {
    const [upperArm, forearm] = [entry.upperArmCm / 100, entry.forearmCm / 100];
    return { lengthsM: { upperArm, forearm, implement } };
  }
  const armEstimatedFromStatureM = entry.statureCm / 100;
  const { upperArmM, forearmM } = estimateSegmentLengths(armEstimatedFromStatureM);
  return {
    lengthsM: { upperArm: upperArmM, forearm: forearmM, implement },
    armEstimatedFromStatureM,
  };
}
