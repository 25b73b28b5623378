import type { Library } from '../library-model.ts';
import type { KitEntry } from '../plan/kit-entry.ts';
import { entryOfPlayer, type PlayerEntry } from '../player/player-entry.ts';

type ArmEntry = Pick<
  PlayerEntry,
  'handedness' | 'upperArmCm' | 'forearmCm' | 'upperArmSensorCm' | 'forearmSensorCm'
>;

/** Who played with what when a table was recorded, as typed; lengths in centimetres, NaN until they are typed. */
export interface PlayEntry
  extends ArmEntry,
    Pick<PlayerEntry, 'player'>,
    Pick<KitEntry, 'implement' | 'ball' | 'wristToSweetSpotCm' | 'implementSensorCm'> {}

/** Nothing is taken for granted: the sensors were put on by somebody else. */
export const EMPTY_ENTRY: PlayEntry = {
  player: '',
  handedness: 'right',
  upperArmCm: Number.NaN,
  forearmCm: Number.NaN,
  upperArmSensorCm: Number.NaN,
  forearmSensorCm: Number.NaN,
  implement: '',
  ball: '',
  wristToSweetSpotCm: Number.NaN,
  implementSensorCm: Number.NaN,
};

/** What is known of a player's arm: whoever is named again need not be measured again. */
export function armOfKnown(library: Library | null, player: string): Partial<ArmEntry> {
  const row = library?.players.find((candidate) => candidate.player === player.trim());
  if (row === undefined) return {};
  const { handedness, upperArmCm, forearmCm, upperArmSensorCm, forearmSensorCm } =
    entryOfPlayer(row);
  return { handedness, upperArmCm, forearmCm, upperArmSensorCm, forearmSensorCm };
}
