import type { PerSegment } from '../arm/segments.ts';
import type { SensorCalibration } from '../calibration/sensor-calibration.ts';
import type { SetPlan } from './set-plan.ts';
import type { SweetSpotBand } from './set-record.ts';

/** Bench calibration of the sensor with this serial. */
export interface CalibratedSensor {
  /** 16 lower-case hex digits, as in the sensor's information. */
  readonly serial: string;
  readonly calibration: SensorCalibration;
}

/**
 * Everything about a set that is known when it starts; the head of its file.
 * Lengths are metres. What changes during the set is an event, never an edit of this.
 */
export interface SetDescription {
  readonly setId: string;
  /** Wall clock at the start, milliseconds since 1970 (UTC), for people; samples use the host timeline. */
  readonly startedAtMs: number;
  readonly programVersion: string;
  readonly source: 'sensors' | 'simulated' | 'imported';
  /** Pseudonym, never a real name. */
  readonly player: string;
  /** Day on which player and parent agreed to be recorded, as year-month-day; absent: nobody said. */
  readonly consentOn?: string;
  readonly handedness: 'left' | 'right';
  /** Barefoot, metres; absent: not measured. */
  readonly statureM?: number;
  /** Shoulder to elbow, elbow to wrist, wrist to sweet spot. */
  readonly lengthsM: PerSegment<number>;
  /**
   * Present when no tape measure was at hand: upper arm and forearm of `lengthsM` are fractions of this stature,
   * an estimate (src/core/arm/segment-lengths.ts).
   */
  readonly armEstimatedFromStatureM?: number;
  /** From each segment's upper joint (shoulder, elbow, wrist) along the segment to its sensor. */
  readonly sensorFromJointM: PerSegment<number>;
  /** Applied to the raw samples of whichever of these sensors take part; absent: none is calibrated. */
  readonly calibrations?: readonly CalibratedSensor[];
  readonly implement: string;
  readonly ball: string;
  /** How the ball comes, in the coach's words; absent: nobody said. */
  readonly feed?: string;
  /** Of the first block; null while nobody knows. */
  readonly sweetSpotBand: SweetSpotBand | null;
  /** Points a ball can score, best first, as the score pad shows them. */
  readonly scoreSteps: readonly number[];
  /** Absent: the set goes on under one condition until it is ended. */
  readonly plan?: SetPlan;
}
