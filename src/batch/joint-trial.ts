import type { Quaternion } from '../core/maths/quaternion.ts';
import type { Vector3 } from '../core/maths/vector.ts';
import type { TrackReading } from '../core/orientation/sensor-track.ts';

/** Two sensors beside a joint at one instant. The readings are overwritten by the next. */
export interface JointInstant {
  /** Which joint of the recording: 0 elbow or the only one, 1 wrist. */
  readonly joint: 0 | 1;
  readonly timeS: number;
  /** Seconds since the instant before. */
  readonly stepS: number;
  readonly above: TrackReading;
  readonly below: TrackReading;
  /** From each sensor to the joint, sensor frames, metres, shape (3). */
  readonly leverAboveM: Vector3;
  readonly leverBelowM: Vector3;
  /** A knock is felt or near: the accelerometers say nothing about the joint. */
  readonly isShocked: boolean;
  /** qAboveFromBelow of the two sensors in truth; null where it was not looked up. */
  readonly qTrue: Quaternion | null;
  /** Whether errors count here. */
  readonly counts: boolean;
}

/** What makes a reach of relative orientations. */
export interface ArmGeometry {
  /** Long axes in the sensor frames, unit, three of shape (3). */
  readonly longAxis: readonly Vector3[];
  /** Upper arm, forearm, implement, metres. */
  readonly lengthsM: readonly number[];
}

/** A recording of sensors beside one or two joints. */
export interface JointTrial {
  /** Trials of one group are told together. */
  readonly group: string;
  /** Of an arm's three segments, whose reach is compared too; null for a rig. */
  readonly arm: ArmGeometry | null;
  /** From the beginning each time. */
  instants(): Iterable<JointInstant>;
}
