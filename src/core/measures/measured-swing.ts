/**
 * One swing as the measures see it. Columns over normalised swing time have SWING_POINTS (101) rows, 0 % to
 * contact; nothing in them is NaN unless said. Void and discarded swings never come this far.
 */
export interface MeasuredSwing {
  /** Reach and its noise (1 SD, from swing to swing), metres, shape (101). */
  readonly reachCurveM: Float64Array;
  readonly reachCurveNoiseM: Float64Array;
  /** Reach at {@link BEFORE_CONTACT_STEP_S} steps up to contact, metres, shape (61); NaN before the data begin. */
  readonly reachBeforeContactM: Float64Array;
  /**
   * Unit vectors along upper arm, forearm and implement, away from the shoulder, court frame:
   * shape (101, 3 segments, 3), row-major.
   */
  readonly directions: Float64Array;
  /** Upper arm, forearm, implement to the sweet spot, metres. */
  readonly lengthsM: readonly [number, number, number];
  /** Start to contact, seconds. */
  readonly durationS: number;
  /** Speed of the sweet spot relative to the shoulder at contact, m/s. */
  readonly contactSpeedMS: number;
  /** The coach's points; null: not scored. */
  readonly points: number | null;
  /** Where the ball landed off the target's middle: beyond it (away from the player) and to its left, metres. */
  readonly landingM: readonly [beyond: number, left: number] | null;
}

/** Step of {@link MeasuredSwing.reachBeforeContactM}; row i lies (60 - i) steps before contact. */
export const BEFORE_CONTACT_STEP_S = 0.005;
export const BEFORE_CONTACT_ROWS = 61;
