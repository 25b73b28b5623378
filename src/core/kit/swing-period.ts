import { RAD_PER_DEG } from '../maths/angles.ts';

/** Period of swings so small that it no longer depends on their size. */
export interface SwingPeriod {
  readonly periodS: number;
  /** Standard error, s. */
  readonly periodSE: number;
}

/** Wider swings are refused: the series below is good to 2e-5 up to here, and a racket soon leaves its pegs. */
export const WIDEST_SWING_RAD = 30 * RAD_PER_DEG;
/** Fewer swings and the tap decides the period. */
const FEWEST_TIMED_SWINGS = 5;
/** SD of one tap on start or stop: a generous reading of hand timing, chosen here. */
const TAP_SD_S = 0.1;
/** An amplitude told by eye is this uncertain, fraction. */
const EYE_SD = 0.3;

/**
 * How much longer a pendulum of this amplitude takes than one that hardly moves:
 *   T / T0 = 1 + theta^2 / 16 + 11 theta^4 / 3072 + ...
 * @param amplitudeRad largest angle from the vertical
 * Source: series of the complete elliptic integral 2 K(sin(theta / 2)) / pi; Landau & Lifshitz, Mechanics, section 11
 * (from memory).  Checked: tests/kit/swing-period.test.ts against the integral.
 */
export function amplitudeFactor(amplitudeRad: number): number {
  const square = amplitudeRad * amplitudeRad;
  return 1 + square / 16 + (11 * square * square) / 3072;
}

/**
 * Small-swing period from a count of swings, to and fro each, timed by taps.
 * @param timedS from the first tap to the last, s
 * @param swings how many whole swings lie between the taps
 * @param amplitudeRad about how far it swung to each side on average, told by eye
 * @returns the period, or why there is none, in words
 * Checked: tests/kit/swing-period.test.ts
 */
export function periodFromTaps(
  timedS: number,
  swings: number,
  amplitudeRad: number,
): SwingPeriod | { readonly reason: string } {
  if (!Number.isInteger(swings) || swings < FEWEST_TIMED_SWINGS) {
    return {
      reason: `Count at least ${FEWEST_TIMED_SWINGS} whole swings, to and fro; 20 are good.`,
    };
  }
  if (!(timedS > 0)) return { reason: 'No time has passed between the taps. Time it again.' };
  if (!(amplitudeRad >= 0 && amplitudeRad <= WIDEST_SWING_RAD)) {
    return { reason: 'The swings are too wide. A hand’s width to each side is right.' };
  }
  const periodS = timedS / swings / amplitudeFactor(amplitudeRad);
  const fromTaps = (Math.SQRT2 * TAP_SD_S) / swings;
  // d ln T / d theta is nearly theta / 8
  const fromAmplitude = (periodS * EYE_SD * amplitudeRad * amplitudeRad) / 8;
  return { periodS, periodSE: Math.hypot(fromTaps, fromAmplitude) };
}
