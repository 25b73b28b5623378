/** Normalised swing time has this many points: 0 %, 1 %, ... 100 %. */
export const SWING_POINTS = 101;

/** Why a swing carries no reach. */
export type VoidReason = 'not-zeroed' | 'sensor-gap' | 'unsettled' | 'no-forward-swing';

/** One swing as the pipeline reports it. Angles rad, lengths m, times microseconds on the host timeline. */
export interface Swing {
  /** 0-based place in the set, voided swings included. */
  readonly index: number;
  readonly contactTimeUs: number;
  /** 0 % of the swing; equals contactTimeUs when no forward swing was found. */
  readonly startTimeUs: number;
  /** null when the reach could be computed. */
  readonly voidReason: VoidReason | null;
  /** Reach at contact; NaN when void. */
  readonly reachM: number;
  /** Standard error of reachM against the truth, swing-to-swing and set-wide errors together; NaN when void. */
  readonly reachStandardErrorM: number;
  /** Reach over normalised swing time, shape (101); all NaN when void. */
  readonly reachCurveM: Float64Array;
  /** Measurement noise of each point of the curve, 1 SD, from swing to swing only, shape (101). */
  readonly reachCurveNoiseM: Float64Array;
  /** Length of the projections of the reach vector at contact on planes of the court frame. */
  readonly horizontalReachM: number;
  readonly frontalReachM: number;
  readonly sagittalReachM: number;
  /** Fastest turning of the implement during the swing, and at contact, rad/s. */
  readonly peakImplementRateRadS: number;
  readonly contactImplementRateRadS: number;
  /** Samples that clipped or were interpolated between start and contact. */
  readonly clippedSamples: number;
  readonly interpolatedSamples: number;
}
