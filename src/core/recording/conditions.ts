import type { SetDescription } from './set-description.ts';
import type { Condition, SetRecord } from './set-record.ts';

/** The condition of a set's first block. */
export function firstCondition({
  implement,
  ball,
  feed,
  lengthsM,
  sensorFromJointM,
  sweetSpotBand,
}: SetDescription): Condition {
  return {
    implement,
    ball,
    feed: feed ?? '',
    implementLengthM: lengthsM.implement,
    implementSensorFromWristM: sensorFromJointM.implement,
    sweetSpotBand,
  };
}

/** The conditions of a set's blocks, in order. */
export function conditionsOf(
  description: SetDescription,
  records: readonly SetRecord[],
): Condition[] {
  const later = records.flatMap((record) =>
    record.kind === 'event' && record.event.type === 'block-began' ? [record.event.condition] : [],
  );
  return [firstCondition(description), ...later];
}

/** Whether two conditions are swung with the same implement, its sensor in the same place. */
export function isSameImplement(a: Condition, b: Condition): boolean {
  return (
    a.implement === b.implement &&
    a.implementLengthM === b.implementLengthM &&
    a.implementSensorFromWristM === b.implementSensorFromWristM
  );
}
