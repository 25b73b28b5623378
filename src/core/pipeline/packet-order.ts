import type { WholePacket } from '../packets/stream-packet.ts';

/**
 * Puts a sensor's packets back into the order they were sent in: those after a gap wait until what is
 * missing is sent again, is known to be lost, or has been waited for long enough. Plain data.
 */
export interface PacketOrder {
  /** Sequence expected next; -1 before the first packet. */
  nextSequence: number;
  /** The packet with that sequence, once it is here. */
  next: WholePacket | null;
  /** Packets that came after a gap, by sequence. */
  readonly waiting: Map<number, WholePacket>;
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
    next: null,
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
export function placePacket(order: PacketOrder, packet: WholePacket): boolean {
  const { sequence } = packet;
  if (order.nextSequence < 0) order.nextSequence = sequence;
  if (ahead(order, sequence) < 0 || isHere(order, sequence)) return false;
  order.lost.delete(sequence);
  if (sequence === order.nextSequence) order.next = packet;
  // its bytes may be part of a whole file's, which a packet that waits must not hold on to
  else order.waiting.set(sequence, { ...packet, bytes: packet.bytes.slice() });
  return true;
}

function isHere({ next, waiting }: PacketOrder, sequence: number): boolean {
  return next?.sequence === sequence || waiting.has(sequence);
}

/** Notes that packets will not come any more; those already given up, or here, are left out. */
export function markLost(order: PacketOrder, firstSequence: number, count: number): void {
  if (order.nextSequence < 0) return;
  for (let i = 0; i < count; i++) {
    const sequence = (firstSequence + i) & 0xffff;
    if (ahead(order, sequence) >= 0 && !isHere(order, sequence)) order.lost.add(sequence);
  }
}

/**
 * Takes the next packet out of line, counting those lost before it.
 * @param giveUp true: what is missing before the earliest one waiting is lost
 * @returns null while the next one may still come
 */
export function takeNext(order: PacketOrder, giveUp: boolean): WholePacket | null {
  while (order.next === null) {
    if (order.waiting.size === 0) return null;
    const sequence = order.nextSequence;
    if (!giveUp && !order.lost.has(sequence)) return null;
    order.lost.delete(sequence);
    order.lostPackets++;
    order.lostSincePacket++;
    advance(order);
  }
  const packet = order.next;
  order.lostSincePacket = 0;
  advance(order);
  return packet;
}

/** On to the next sequence, which may have been waiting. */
function advance(order: PacketOrder): void {
  const sequence = (order.nextSequence + 1) & 0xffff;
  order.nextSequence = sequence;
  order.next = order.waiting.size === 0 ? null : (order.waiting.get(sequence) ?? null);
  if (order.next !== null) order.waiting.delete(sequence);
}
