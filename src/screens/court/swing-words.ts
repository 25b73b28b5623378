import type { SweetSpotBand } from '../../core/recording/set-record.ts';
import type { Swing, VoidReason } from '../../core/swings/swing.ts';

const VOID_WORDS: Readonly<Record<VoidReason, string>> = {
  'not-zeroed': 'No reach: the sensors were not zeroed yet',
  unsettled: 'No reach: after missing data the sensors must first agree again',
  swapped: 'No reach: sensors seem to be swapped',
  slipped: 'No reach: a sensor seems to have slipped',
  'sensor-gap': "No reach: a sensor's data was missing",
  'no-forward-swing': 'No reach: no forward swing was found',
  'air-swing': 'Air swing: no ball was met',
};

/** Why a swing has no reach, for the coach. */
export function voidWords(reason: VoidReason): string {
  return VOID_WORDS[reason];
}

/** Where a reach lies against the sweet-spot band. */
export interface Miss {
  readonly side: 'in' | 'short' | 'long' | 'unknown';
  /** Beyond the nearer edge of the band; 0 inside. */
  readonly beyondM: number;
}

/** Half of the last figure shown: a miss of "0.0 cm" is none. */
const SHOWN_AS_NOTHING_M = 0.0005;

/** Distance of a reach from the sweet-spot band; `unknown` while nobody knows the band. */
export function missOf(reachM: number, band: SweetSpotBand | null): Miss {
  if (band === null) return { side: 'unknown', beyondM: 0 };
  const fromCentreM = reachM - band.reachM;
  const beyondM = Math.max(0, Math.abs(fromCentreM) - band.halfWidthM);
  if (beyondM < SHOWN_AS_NOTHING_M) return { side: 'in', beyondM: 0 };
  return { side: fromCentreM < 0 ? 'short' : 'long', beyondM };
}

/** The miss in two or three words. */
export function missWords(miss: Miss): string {
  if (miss.side === 'in') return 'At target reach';
  if (miss.side === 'unknown') return 'No target reach planned';
  return `${centimetres(miss.beyondM)} cm ${miss.side}`;
}

/** What a screen reader says when a swing arrives. */
export function announce(swing: Swing, band: SweetSpotBand | null): string {
  const name = `Swing ${swing.index + 1}`;
  if (swing.voidReason !== null) return `${name}. ${voidWords(swing.voidReason)}.`;
  return `${name}. ${centimetres(swing.reachM)} cm. ${missWords(missOf(swing.reachM, band))}.`;
}

/**
 * A length in centimetres with one decimal.
 * @returns a dash for NaN: no number is better than a wrong one
 */
export function centimetres(lengthM: number): string {
  return Number.isFinite(lengthM) ? (lengthM * 100).toFixed(1) : '–';
}
