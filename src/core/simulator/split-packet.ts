import type { StreamPacket } from '../packets/stream-packet.ts';

/** Beside its samples a packet has 16 bytes, its notification 3 (ATT opcode and handle). */
const FRAME_BYTES = 16 + 3;
const SAMPLE_BYTES = 12;
const MAGNETOMETER_BYTES = 6;

/** Bytes of ATT MTU that a packet needs. */
export function mtuFor(packet: StreamPacket): number {
  const magnetometerBytes = packet.magnetometer === null ? 0 : MAGNETOMETER_BYTES;
  return FRAME_BYTES + 2 * packet.samples.length + magnetometerBytes;
}

/**
 * The packet in parts that fit one notification each, with sequences counting up from its own.
 * @param mtu ATT MTU, at least 65
 * Source: firmware-protocol/SPEC.md, "Packet size".
 */
export function splitPacket(packet: StreamPacket, mtu: number): StreamPacket[] {
  const reserve = packet.magnetometer === null ? 0 : MAGNETOMETER_BYTES;
  const most = Math.floor((mtu - FRAME_BYTES - reserve) / SAMPLE_BYTES);
  const count = packet.samples.length / 6;
  const tickOf = (sample: number) =>
    count === 1 ? 0 : Math.round((sample * packet.spanTicks) / (count - 1));
  const parts: StreamPacket[] = [];
  for (let from = 0; from < count; from += most) {
    const to = Math.min(count, from + most);
    const samples = packet.samples.slice(6 * from, 6 * to);
    parts.push({
      ...packet,
      clipped: packet.clipped && samples.some(isAtEnd),
      dropped: packet.dropped && from === 0,
      sequence: (packet.sequence + parts.length) & 0xffff,
      firstTick: (packet.firstTick + tickOf(from)) % 2 ** 32,
      spanTicks: tickOf(to - 1) - tickOf(from),
      samples,
      magnetometer: to === count ? packet.magnetometer : null,
    });
  }
  return parts;
}

/** The simulated part uses all of int16. */
function isAtEnd(value: number): boolean {
  return Math.abs(value) >= 32767;
}
