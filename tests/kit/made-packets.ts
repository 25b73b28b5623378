import type { MadePacket } from '../../src/core/simulator/sample-stream.ts';
import type { FirmwareHardware } from '../../src/core/simulator/virtual-firmware.ts';

/** Everything a simulated sensor makes. */
export function madePackets({ packets }: FirmwareHardware): MadePacket[] {
  const made: MadePacket[] = [];
  for (let next = packets.next(); !next.done; next = packets.next()) made.push(next.value);
  return made;
}
