import type { Vector3 } from '../maths/vector.ts';
import type { PerSegment } from './segments.ts';

/** From the sensor above a joint and the one below it to the joint, sensor frames, metres, shape (3). */
export interface JointLevers {
  readonly aboveM: Vector3;
  readonly belowM: Vector3;
}

/** Where the joints lie as seen from the sensors. */
export interface ChainLevers {
  /** From the upper arm's sensor, its frame, metres, shape (3). */
  readonly toShoulderM: Vector3;
  readonly elbow: JointLevers;
  readonly wrist: JointLevers;
}

/**
 * Joints where tape and long axes have them.
 * @param longAxes of what the sensors sit on, away from the shoulder, sensor frames, unit, three of shape (3)
 * @param lengthsM of the segments @param sensorFromJointM from the joint above each sensor along its segment
 */
export function leversByTape(
  longAxes: readonly [Vector3, Vector3, Vector3],
  lengthsM: PerSegment<number>,
  sensorFromJointM: PerSegment<number>,
): ChainLevers {
  const along = (k: 0 | 1 | 2, metres: number) => longAxes[k].map((x) => metres * x);
  return {
    toShoulderM: along(0, -sensorFromJointM.upperArm),
    elbow: {
      aboveM: along(0, lengthsM.upperArm - sensorFromJointM.upperArm),
      belowM: along(1, -sensorFromJointM.forearm),
    },
    wrist: {
      aboveM: along(1, lengthsM.forearm - sensorFromJointM.forearm),
      belowM: along(2, -sensorFromJointM.implement),
    },
  };
}
