import type { SetEvent, SetRecord } from '../recording/set-record.ts';
import { conditionOf } from './kit.ts';
import type { ListeningPlayer } from './listening-player.ts';
import type { LaterBlock } from './session-types.ts';

/** After the player stands ready the coach begins the next block, then asks for the poses, seconds. */
const TO_BLOCK_S = 5;
const TO_ZERO_S = 1;

/**
 * Has the player play the later blocks, one after the other: begins each and, where needed, asks for the poses.
 * @returns what the coach did, in order of time
 */
export function coachBlocks(player: ListeningPlayer, blocks: readonly LaterBlock[]): SetRecord[] {
  const records: SetRecord[] = [];
  const tell = (event: SetEvent, atS: number): void => {
    player.hear(event, atS * 1e6);
    records.push({ kind: 'event', hostTimeUs: atS * 1e6, event });
  };
  for (const block of blocks) {
    const atS = player.readyS + TO_BLOCK_S;
    tell({ type: 'block-began', condition: conditionOf(block) }, atS);
    if (player.needsPoses) tell({ type: 'zero-requested' }, atS + TO_ZERO_S);
  }
  return records;
}
