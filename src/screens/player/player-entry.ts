import { estimateSegmentLengths } from '../../core/arm/segment-lengths.ts';
import { centimetres, metresOf } from '../controls/centimetres.ts';
import type { PlayerRow } from '../library-model.ts';

/** A player as typed; lengths in centimetres, NaN until they are typed. */
export interface PlayerEntry {
  readonly player: string;
  readonly handedness: 'left' | 'right';
  /** Barefoot; needed only without a tape measure. */
  readonly statureCm: number;
  /** Where the lengths of upper arm and forearm come from. */
  readonly armBy: 'tape' | 'stature';
  readonly upperArmCm: number;
  readonly forearmCm: number;
  /** From shoulder and elbow to the sensors. */
  readonly upperArmSensorCm: number;
  readonly forearmSensorCm: number;
  /** Day on which player and parent agreed, year-month-day; null: they have not. */
  readonly consentOn: string | null;
}

/** Nobody is measured yet; the sensors have a usual place. */
export const NEW_PLAYER: PlayerEntry = {
  player: '',
  handedness: 'right',
  statureCm: Number.NaN,
  armBy: 'tape',
  upperArmCm: Number.NaN,
  forearmCm: Number.NaN,
  upperArmSensorCm: 15,
  forearmSensorCm: 14,
  consentOn: null,
};

/** A known player as the form shows them. */
export function entryOfPlayer(row: PlayerRow): PlayerEntry {
  const statureM = row.statureM ?? row.armEstimatedFromStatureM;
  return {
    player: row.player,
    handedness: row.handedness,
    statureCm: statureM === undefined ? Number.NaN : centimetres(statureM),
    armBy: row.armEstimatedFromStatureM === undefined ? 'tape' : 'stature',
    upperArmCm: centimetres(row.upperArmM),
    forearmCm: centimetres(row.forearmM),
    upperArmSensorCm: centimetres(row.upperArmSensorM),
    forearmSensorCm: centimetres(row.forearmSensorM),
    consentOn: row.consentOn ?? null,
  };
}

/**
 * The player to keep, lengths in metres.
 * @param seenMs when the coach said so, milliseconds since 1970 (UTC)
 * @throws RangeError for an implausible stature, where the arm is estimated from it
 */
export function playerOfEntry(entry: PlayerEntry, seenMs: number): PlayerRow {
  const statureM = metresOf(entry.statureCm);
  const isEstimated = entry.armBy === 'stature';
  const arm = isEstimated
    ? estimateSegmentLengths(statureM)
    : { upperArmM: metresOf(entry.upperArmCm), forearmM: metresOf(entry.forearmCm) };
  return {
    player: entry.player.trim(),
    handedness: entry.handedness,
    ...(entry.consentOn === null ? {} : { consentOn: entry.consentOn }),
    ...(Number.isNaN(statureM) ? {} : { statureM }),
    ...(isEstimated ? { armEstimatedFromStatureM: statureM } : {}),
    upperArmM: arm.upperArmM,
    forearmM: arm.forearmM,
    upperArmSensorM: metresOf(entry.upperArmSensorCm),
    forearmSensorM: metresOf(entry.forearmSensorCm),
    seenMs,
  };
}
