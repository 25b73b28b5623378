import type { StreamPacket } from '../packets/stream-packet.ts';

/**
 * Puts a sensor's packets back into the order they were sent in: those after a gap wait until what is
 * missing is sent again, is known to be lost, or has been waited for long enough. Plain data.
 */
export interface PacketOrder {
  /** Sequence expected next; -1 before the first packet. */
  nextSequence: number;
  /** Packets that came after a gap, by sequence. */
  readonly waiting: Map<number, StreamPacket>;
  /** Sequences that will not come any more. */
  readonly lost: Set<number>;
  /** How many were lost so far, and how many of them since the last packet was taken out of line. */
  lostPackets: number;
  lostSincePacket: number;
}

/** Half the range of sequences: what is further ahead than this is behind. */
const HALF_RANGE = 0x8000;

/** Nothing expected yet. */
export function createPacketOrder(): PacketOrder {
  return {
    nextSequence: -1,
    waiting: new Map(),
    lost: new Set(),
    lostPackets: 0,
    lostSincePacket: 0,
  };
}

/** How far a sequence is ahead of the one expected next, 0..32767, or -1 when it is behind. */
function ahead(order: PacketOrder, sequence: number): number {
  const distance = (sequence - order.nextSequence) & 0xffff;
  return distance < HALF_RANGE ? distance : -1;
}

/**
 * Puts a packet in line.
 * @returns false when it came before, or after it was given up
 */
export function placePacket(order: PacketOrder, packet: StreamPacket): boolean {
  const { sequence } = packet;
  if (order.nextSequence < 0) order.nextSequence = sequence;
  if (ahead(order, sequence) < 0 || order.waiting.has(sequence)) return false;
  order.waiting.set(sequence, packet);
  return true;
}

/** Notes that packets will not come any more; those already given up, or here, are left out. */
export function markLost(order: PacketOrder, firstSequence: number, count: number): void {
  if (order.nextSequence < 0) return;
  for (let i = 0; i < count; i++) {
    const sequence = (firstSequence + i) & 0xffff;
    if (ahead(order, sequence) >= 0 && !order.waiting.has(sequence)) order.lost.add(sequence);
  }
}

/**
 * Takes the next packet out of line, counting those lost before it.
 * @param giveUp true: what is missing before the earliest one waiting is lost
 * @returns null while the next one may still come
 */
export function takeNext(order: PacketOrder, giveUp: boolean): StreamPacket | null {
  while (order.waiting.size > 0) {
    const sequence = order.nextSequence;
    const packet = order.waiting.get(sequence);
    if (packet === undefined && !giveUp && !order.lost.has(sequence)) return null;
    order.nextSequence = (sequence + 1) & 0xffff;
    if (packet !== undefined) {
      order.waiting.delete(sequence);
      order.lostSincePacket = 0;
      return packet;
    }
    order.lost.delete(sequence);
    order.lostPackets++;
    order.lostSincePacket++;
  }
  return null;
}
