import type { Segment } from '../arm/segments.ts';

/** A sensor that turns in its place against the segment: a loose strap. */
export interface SensorSlip {
  readonly segment: Segment;
  readonly atS: number;
  /** How long it stays turned, seconds; Infinity for good. */
  readonly lastsS: number;
  /** Degrees about an axis of the segment frame (x along the segment), any length but 0, shape (3). */
  readonly angleDeg: number;
  readonly axis: readonly [number, number, number];
}

/** One segment held wrong in one of the two poses, degrees. */
export interface BadPose {
  readonly pose: 'plumb' | 'point';
  readonly segment: Segment;
  /** In the vertical plane through the target: hanging too far forward, pointing too high. */
  readonly forwardDeg: number;
  /** Out of that plane, to the left. */
  readonly sidewaysDeg: number;
}

/**
 * What is wrong with a simulated sensor and its radio link. Defaults are those of design.md section 12;
 * noise and bias are ordinary consumer parts (BMI270 class, datasheet figures).
 */
export interface SensorErrors {
  /** Gyroscope noise density, deg/s/sqrt(Hz). */
  readonly gyroNoiseDegS: number;
  /** Start-up bias per axis: uniform within +- this, deg/s. */
  readonly gyroBiasDegS: number;
  /** Bias random walk, deg/s per sqrt(s). */
  readonly gyroBiasWalkDegS: number;
  /** SD of the scale errors and of the cross-axis terms, both parts alike, fraction. */
  readonly scale: number;
  readonly crossAxis: number;
  /** Accelerometer noise density, micro-g/sqrt(Hz), and bias per axis (uniform within +-), milli-g. */
  readonly accelNoiseMicroG: number;
  readonly accelBiasMilliG: number;
  readonly gyroRangeDegS: number;
  readonly accelRangeG: number;
  /** Mounting turned against the segment by up to this angle about any axis, degrees. */
  readonly mountingDeg: number;
  /** Sensor's distance from the segment's axis, metres: skin is not bone. */
  readonly offAxisM: number;
  /** Net rotation that a contact shock leaves on the gyroscope, SD, degrees. */
  readonly shockRotationDeg: number;
  /** Output rate off its nominal value by up to this fraction. */
  readonly rateOff: number;
  /** Crystal error, uniform within +- this, parts per million. */
  readonly clockPpm: number;
  /** Radio delay: least, mean excess, most, milliseconds. */
  readonly delayMinMs: number;
  readonly delayMeanExcessMs: number;
  readonly delayMaxMs: number;
  /** Fraction of packets lost for good. */
  readonly lossFraction: number;
  /** One silence of the forearm sensor: from and for how long, seconds; null for none. */
  readonly dropout: { readonly atS: number; readonly lastsS: number } | null;
  /** Soft-tissue wobble of the two arm sensors at full swing speed, degrees. */
  readonly wobbleDeg: number;
  /** SD of each segment's deviation from the ideal pose while zeroing, degrees. */
  readonly poseDeg: number;
  readonly badPose: BadPose | null;
  /** false: the player stands ready from the start and never holds the poses. */
  readonly poses: boolean;
  /** Two sensors at each other's places: the bytes of one come under the name of the other. */
  readonly swapped: readonly [Segment, Segment] | null;
  readonly slip: SensorSlip | null;
}

export const DEFAULT_ERRORS: SensorErrors = {
  gyroNoiseDegS: 0.007,
  gyroBiasDegS: 1,
  gyroBiasWalkDegS: 0.002,
  scale: 0.007,
  crossAxis: 0.01,
  accelNoiseMicroG: 150,
  accelBiasMilliG: 30,
  gyroRangeDegS: 2000,
  accelRangeG: 16,
  mountingDeg: 50,
  offAxisM: 0,
  shockRotationDeg: 0.7,
  rateOff: 0.02,
  clockPpm: 40,
  delayMinMs: 5,
  delayMeanExcessMs: 15,
  delayMaxMs: 60,
  lossFraction: 0,
  dropout: null,
  wobbleDeg: 0,
  poseDeg: 0,
  badPose: null,
  poses: true,
  swapped: null,
  slip: null,
};

/** A perfect sensor on a perfect link (quantisation remains): what is left is the method's own error. */
export const NO_ERRORS: SensorErrors = {
  ...DEFAULT_ERRORS,
  gyroNoiseDegS: 0,
  gyroBiasDegS: 0,
  gyroBiasWalkDegS: 0,
  scale: 0,
  crossAxis: 0,
  accelNoiseMicroG: 0,
  accelBiasMilliG: 0,
  gyroRangeDegS: 4000,
  accelRangeG: 64,
  shockRotationDeg: 0,
  rateOff: 0,
  clockPpm: 0,
  delayMeanExcessMs: 0,
};
