import type { SwingCurves } from '../swings/swing.ts';

export { BEFORE_CONTACT_ROWS, BEFORE_CONTACT_STEP_S } from '../swings/swing.ts';

/** One swing as the measures see it, neither void nor discarded; nothing is NaN unless said. */
export interface MeasuredSwing extends SwingCurves {
  /** false: `directions` are turned about the vertical by an unknown angle, the same for all three segments. */
  readonly courtHeadingKnown: boolean;
  /** Start to contact, seconds. */
  readonly durationS: number;
  /** Speed of the sweet spot relative to the shoulder at contact, m/s. */
  readonly contactSpeedMS: number;
  /** The coach's points; null: not scored. */
  readonly points: number | null;
  /** Where the ball landed off the target's middle: beyond it (away from the player) and to its left, metres. */
  readonly landingM: readonly [beyond: number, left: number] | null;
}
