import type { ScoredSwing } from '../../core/pipeline/outputs.ts';
import type { SweetSpotBand } from '../../core/recording/set-record.ts';

/** A fixed window of reach for ruler and dots, so that the same place always means the same reach. */
export interface ReachScale {
  readonly lowM: number;
  readonly highM: number;
}

/** Half the window while the sweet spot is unknown. */
const UNKNOWN_HALF_M = 0.1;
/** Between two labels of the ruler. */
const TICK_M = 0.02;

/** Nearest to either end that a mark may stand, as a share of the window: a mark must stay whole. */
const EDGE = 0.03;

/**
 * Window centred on the sweet-spot band, or on the first reach while no band is known.
 * @returns null before there is anything to centre on
 */
export function reachScale(
  band: SweetSpotBand | null,
  swings: readonly ScoredSwing[],
): ReachScale | null {
  if (band !== null) {
    const halfM = Math.max(0.06, 3 * band.halfWidthM);
    return { lowM: band.reachM - halfM, highM: band.reachM + halfM };
  }
  const first = swings.find(({ swing }) => swing.voidReason === null);
  if (first === undefined) return null;
  const centreM = Math.round(first.swing.reachM * 20) / 20;
  return { lowM: centreM - UNKNOWN_HALF_M, highM: centreM + UNKNOWN_HALF_M };
}

/** Place of a reach in the window, 0 short end to 1 long end, kept off the edges. */
export function placeOf(scale: ReachScale, reachM: number): number {
  const share = (reachM - scale.lowM) / (scale.highM - scale.lowM);
  return Math.min(1 - EDGE, Math.max(EDGE, share));
}

/** Reaches to label, in metres: whole steps of 2 cm that stay clear of the ends. */
export function ticksOf({ lowM, highM }: ReachScale): readonly number[] {
  const clearM = EDGE * (highM - lowM);
  const first = Math.ceil((lowM + clearM) / TICK_M);
  const last = Math.floor((highM - clearM) / TICK_M);
  return Array.from({ length: last - first + 1 }, (_, at) => (first + at) * TICK_M);
}
