import type { PlannedSet } from '../core/plan/planned-set.ts';
import type { SetDescription } from '../core/recording/set-description.ts';
import type { PlayerRow } from './library-model.ts';

/** What a set is called, and when and by which program it was made. */
export type SetHead = Pick<SetDescription, 'setId' | 'startedAtMs' | 'programVersion'>;

/**
 * Description of a set with real sensors, as its file begins: the first block's condition and the whole plan.
 * @throws RangeError for a player without consent, or a plan without a block
 */
export function describeSet(
  { player, handedness, consentOn, ...row }: PlayerRow,
  { plan, scoreSteps }: PlannedSet,
  head: SetHead,
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
    implement: first.implement,
    ball: first.ball,
    ...(first.feed === '' ? {} : { feed: first.feed }),
    sweetSpotBand: first.sweetSpotBand,
    scoreSteps,
    plan,
  };
}
