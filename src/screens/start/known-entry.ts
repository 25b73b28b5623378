import type { FromWorker } from '../../worker/contract.ts';
import type { SensorSetEntry } from './sensor-set.ts';

/** Players and kit of earlier sets. */
export type Known = Extract<FromWorker, { type: 'library' }>['library'];

/** What an earlier set tells of a player: whoever is chosen again need not be measured again. */
export function ofPlayer(known: Known | null, player: string): Partial<SensorSetEntry> {
  const row = known?.players.find((candidate) => candidate.player === player.trim());
  if (row === undefined) return {};
  const { handedness, upperArmM, forearmM, upperArmSensorM, forearmSensorM } = row;
  const statureM = row.armEstimatedFromStatureM;
  return {
    handedness,
    upperArmCm: cm(upperArmM),
    forearmCm: cm(forearmM),
    upperArmSensorCm: cm(upperArmSensorM),
    forearmSensorCm: cm(forearmSensorM),
    ...(statureM === undefined ? { armBy: 'tape' } : { armBy: 'stature', statureCm: cm(statureM) }),
  };
}

/** The same of an implement. */
export function ofImplement(known: Known | null, implement: string): Partial<SensorSetEntry> {
  const row = known?.implements.find((candidate) => candidate.implement === implement.trim());
  return row === undefined
    ? {}
    : { wristToSweetSpotCm: cm(row.lengthM), implementSensorCm: cm(row.sensorM) };
}

/** To the millimetre, as a tape measure reads. */
function cm(metres: number): number {
  return Math.round(1000 * metres) / 10;
}
