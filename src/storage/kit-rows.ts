import type { CalibratedSensor } from '../core/recording/set-description.ts';

/** A moment of inertia as the pendulum gave it, kg m^2. */
export interface MeasuredInertia {
  readonly inertiaKgM2: number;
  readonly standardError: number;
  /** The axis it is about, from the butt end, metres. */
  readonly axisM: number;
  /** When it was measured, milliseconds since 1970 (UTC). */
  readonly measuredMs: number;
}

/** What a coach may have measured of an implement; absent: not measured. SI. */
export interface ImplementMeasures {
  readonly totalLengthM?: number;
  readonly massKg?: number;
  /** From the butt end. */
  readonly balancePointM?: number;
  readonly inertia?: MeasuredInertia;
}

/** What a coach may have noted of a ball; absent: not noted. */
export interface BallMeasures {
  readonly diameterM?: number;
  /** Compression or speed in the coach's or the maker's words. */
  readonly compression?: string;
}

/** The bench calibration of one sensor; a later one takes its place. */
export interface CalibrationRow extends CalibratedSensor {
  /** When it was made, milliseconds since 1970 (UTC). */
  readonly calibratedMs: number;
}
