/** Normalised swing time has this many points: 0 %, 1 %, ... 100 %. */
export const SWING_POINTS = 101;

/** Why a swing carries no reach. */
export type VoidReason =
  | 'not-zeroed'
  | 'sensor-gap'
  | 'unsettled'
  | 'no-forward-swing'
  /** A fast swing that met nothing: a practice swing or a miss. Its time is that of the fastest turning. */
  | 'air-swing'
  /** Sensors seem to sit at each other's places. */
  | 'swapped'
  /** A sensor seems to have slipped or turned since the poses; also found out some swings later. */
  | 'slipped';

/** One swing as the pipeline reports it. Angles rad, lengths m, times microseconds on the host timeline. */
export interface Swing {
  /** 0-based place in the set, voided swings included. */
  readonly index: number;
  /** Of an air swing, the instant of fastest turning. */
  readonly contactTimeUs: number;
  /** 0 % of the swing; equals contactTimeUs when no forward swing was found. */
  readonly startTimeUs: number;
  /** null when the reach could be computed. */
  readonly voidReason: VoidReason | null;
  /** Reach at contact; NaN when void. */
  readonly reachM: number;
  /** Standard error of reachM against the truth, swing-to-swing and set-wide errors together; NaN when void. */
  readonly reachStandardErrorM: number;
  /**
   * Length of the projections of the reach vector at contact on planes of the court frame. The frontal and
   * sagittal ones are NaN while nobody knows where the target is: the upper arm's heading was lost in a gap
   * and the player has not pointed again. Directions in {@link SwingCurves} are then turned about the vertical
   * by an unknown angle, the same for all three segments.
   */
  readonly horizontalReachM: number;
  readonly frontalReachM: number;
  readonly sagittalReachM: number;
  readonly courtHeadingKnown: boolean;
  /** Speed of the sweet spot relative to the shoulder at contact, m/s. */
  readonly sweetSpotSpeedMS: number;
  /** Fastest turning of the implement during the swing, and at contact, rad/s. */
  readonly peakImplementRateRadS: number;
  readonly contactImplementRateRadS: number;
  /** Samples that clipped or were interpolated between start and contact. */
  readonly clippedSamples: number;
  readonly interpolatedSamples: number;
}

/** Step and rows of {@link SwingCurves.reachBeforeContactM}; row i lies (60 - i) steps before contact. */
export const BEFORE_CONTACT_STEP_S = 0.005;
export const BEFORE_CONTACT_ROWS = 61;

/** How one swing went, over normalised swing time unless said; of swings that are not void. */
export interface SwingCurves {
  /** Reach, metres, shape (101). */
  readonly reachCurveM: Float64Array;
  /** Measurement noise of each point of the curve, 1 SD, from swing to swing only, metres, shape (101). */
  readonly reachCurveNoiseM: Float64Array;
  /** Reach in the 300 ms before contact, metres, shape (61); NaN before the data begin. */
  readonly reachBeforeContactM: Float64Array;
  /**
   * Unit vectors along upper arm, forearm and implement, away from the shoulder, court frame: shape
   * (101, 3 segments, 3), row-major.
   */
  readonly directions: Float64Array;
  /** Upper arm, forearm, implement to the sweet spot, metres. */
  readonly lengthsM: readonly [number, number, number];
}
