import type { PlannedSet } from '../core/plan/planned-set.ts';
import type { CalibratedSensor, SetDescription } from '../core/recording/set-description.ts';
import type { PlayerRow } from './library-model.ts';

/** What a set is called, and when and by which program it was made. */
export type SetHead = Pick<SetDescription, 'setId' | 'startedAtMs' | 'programVersion'>;

/** As many as a description holds. */
const MOST_CALIBRATIONS = 64;

/**
 * Description of a set with real sensors, as its file begins: the first block's condition and the whole plan.
 * @param calibrations of sensors that may take part, latest first; those that do not are never applied
 * @throws RangeError for a player without consent, or a plan without a block
 */
export function describeSet(
  { player, handedness, consentOn, ...row }: PlayerRow,
  { plan, scoreSteps }: PlannedSet,
  head: SetHead,
  calibrations: readonly CalibratedSensor[],
): SetDescription {
  if (consentOn === undefined) throw new RangeError(`${player} has not agreed to be recorded`);
  const first = plan.conditions[plan.blocks[0] ?? Number.NaN];
  if (first === undefined) throw new RangeError('the plan has no first block');
  const { statureM, armEstimatedFromStatureM } = row;
  return {
    ...head,
    source: 'sensors',
    player,
    consentOn,
    handedness,
    ...(statureM === undefined ? {} : { statureM }),
    lengthsM: {
      upperArm: row.upperArmM,
      forearm: row.forearmM,
      implement: first.implementLengthM,
    },
    ...(armEstimatedFromStatureM === undefined ? {} : { armEstimatedFromStatureM }),
    sensorFromJointM: {
      upperArm: row.upperArmSensorM,
      forearm: row.forearmSensorM,
      implement: first.implementSensorFromWristM,
    },
    ...(calibrations.length === 0 ? {} : { calibrations: takenAlong(calibrations) }),
    implement: first.implement,
    ball: first.ball,
    ...(first.feed === '' ? {} : { feed: first.feed }),
    sweetSpotBand: first.sweetSpotBand,
    scoreSteps,
    plan,
  };
}

/** What the file has of them: no more than it asks for, and no more than it takes. */
function takenAlong(calibrations: readonly CalibratedSensor[]): readonly CalibratedSensor[] {
  return calibrations
    .slice(0, MOST_CALIBRATIONS)
    .map(({ serial, calibration }) => ({ serial, calibration }));
}
