/** Lengths of the arm from stature, metres. */
export interface EstimatedLengths {
  /** Always: they stand in for a tape measure, and whoever shows them says so. */
  readonly isEstimate: true;
  readonly upperArmM: number;
  readonly forearmM: number;
  /** Wrist to fingertips, of the open hand. */
  readonly handM: number;
}

/** Fractions of stature: shoulder to elbow, elbow to wrist, wrist to fingertips. */
const UPPER_ARM = 0.186;
const FOREARM = 0.146;
const HAND = 0.108;

/** Nobody who swings an implement is shorter or taller, metres; centimetres and feet fall outside. */
export const MIN_STATURE_M = 0.7;
export const MAX_STATURE_M = 2.3;

/**
 * Lengths of the arm as fractions of stature, for when there is no tape measure.
 * The fractions are those of adults. Children's limbs grow at another pace than their trunk, and adult
 * proportions must not be extrapolated to them (Jensen 1986, J Biomech 19:359): a tape measure is better, and
 * the more so the younger the player.
 * @param statureM metres, barefoot
 * @throws RangeError for a stature below 0.7 or above 2.3 m
 * Source: Drillis & Contini 1966, as tabulated by Winter, Biomechanics and Motor Control of Human Movement,
 * figure 4.1 (fractions seen as constants in public code, the page from memory).
 * Checked: tests/arm/segment-lengths.test.ts
 */
export function estimateSegmentLengths(statureM: number): EstimatedLengths {
  if (!(statureM >= MIN_STATURE_M && statureM <= MAX_STATURE_M)) {
    throw new RangeError(
      `stature must be ${MIN_STATURE_M} to ${MAX_STATURE_M} m, got ${statureM}; give it in metres, or measure the arm`,
    );
  }
  return {
    isEstimate: true,
    upperArmM: UPPER_ARM * statureM,
    forearmM: FOREARM * statureM,
    handM: HAND * statureM,
  };
}
