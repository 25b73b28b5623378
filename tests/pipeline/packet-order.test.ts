import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { WholePacket } from '../../src/core/packets/stream-packet.ts';
import {
  createPacketOrder,
  markLost,
  type PacketOrder,
  placePacket,
  takeNext,
} from '../../src/core/pipeline/packet-order.ts';

const packet = (sequence: number): WholePacket => ({
  clipped: false,
  dropped: false,
  resent: false,
  sequence: sequence & 0xffff,
  firstTick: 0,
  spanTicks: 0,
  count: 1,
  bytes: new Uint8Array(28),
});

function takeAll(order: PacketOrder, giveUp = false): number[] {
  const taken: number[] = [];
  for (let next = takeNext(order, giveUp); next !== null; next = takeNext(order, giveUp)) {
    taken.push(next.sequence);
  }
  return taken;
}

describe('packet order', () => {
  it('holds back what came after a gap until the gap is filled', () => {
    const order = createPacketOrder();
    for (const sequence of [7, 9, 10]) placePacket(order, packet(sequence));
    expect(takeAll(order)).toEqual([7]);
    placePacket(order, packet(8));
    expect(takeAll(order)).toEqual([8, 9, 10]);
    expect(order.lostPackets).toBe(0);
  });

  it('goes on at once past packets known to be lost, and counts them', () => {
    const order = createPacketOrder();
    for (const sequence of [65534, 2, 3]) placePacket(order, packet(sequence));
    expect(takeAll(order)).toEqual([65534]);
    markLost(order, 65535, 3);
    expect(takeAll(order)).toEqual([2, 3]);
    expect(order.lostPackets).toBe(3);
  });

  it('counts lost packets also when the one after them still waits for another', () => {
    const order = createPacketOrder();
    for (const sequence of [1, 5]) placePacket(order, packet(sequence));
    markLost(order, 2, 1);
    expect(takeAll(order)).toEqual([1]);
    placePacket(order, packet(3));
    placePacket(order, packet(4));
    expect(takeAll(order)).toEqual([3, 4, 5]);
    expect(order.lostPackets).toBe(1);
  });

  it('gives up when told to', () => {
    const order = createPacketOrder();
    for (const sequence of [1, 4, 6]) placePacket(order, packet(sequence));
    expect(takeAll(order, true)).toEqual([1, 4, 6]);
    expect(order.lostPackets).toBe(3);
  });

  it('leaves out packets that came before or were given up', () => {
    const order = createPacketOrder();
    placePacket(order, packet(1));
    placePacket(order, packet(3));
    takeAll(order, true);
    for (const sequence of [1, 2, 3]) expect(placePacket(order, packet(sequence))).toBe(false);
    markLost(order, 1, 2);
    expect(order.lost.size).toBe(0);
  });

  // Serial number arithmetic, RFC 1982 section 3.2, for 16 bits: up to 2^15 - 1 ahead is later. It leaves exactly half
  // the range open; packet-order.ts counts that as behind.
  it.each([
    [0, 32767, true],
    [0, 32768, false],
    [0, 32769, false],
    [40000, (40000 + 32767) % 65536, true],
    [40000, (40000 + 32768) % 65536, false],
  ])('expecting %i, takes %i as one to come: %s', (next, sequence, isToCome) => {
    const order = createPacketOrder();
    placePacket(order, packet(next - 1));
    takeAll(order);
    expect(placePacket(order, packet(sequence))).toBe(isToCome);
  });

  it('forgets that a packet was lost when it comes after all', () => {
    const order = createPacketOrder();
    for (const sequence of [1, 3]) placePacket(order, packet(sequence));
    markLost(order, 2, 1);
    placePacket(order, packet(2));
    expect(takeAll(order)).toEqual([1, 2, 3]);
    expect(order.lostPackets).toBe(0);
    // the numbers have come round: this one may still come
    order.nextSequence = 2;
    placePacket(order, packet(3));
    expect(takeAll(order)).toEqual([]);
  });

  it('lets go of the bytes around a packet that waits', () => {
    const order = createPacketOrder();
    const file = new Uint8Array(1000);
    for (const sequence of [1, 3]) {
      placePacket(order, { ...packet(sequence), bytes: file.subarray(28, 56) });
    }
    expect(order.waiting.get(3)!.bytes.buffer.byteLength).toBe(28);
  });

  it('delivers every packet once and in order, however they arrive', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 0, max: 65535 }),
        fc.array(fc.tuple(fc.nat(199), fc.nat(20)), { maxLength: 400 }),
        (first, noise) => {
          // 200 packets shuffled within 20 places, with repeats
          const arrivals = Array.from({ length: 200 }, (_, i) => ({ i, at: i }));
          for (const [i, late] of noise) arrivals.push({ i, at: i + late });
          arrivals.sort((a, b) => a.at - b.at);
          const order = createPacketOrder();
          const taken: number[] = [];
          for (const { i } of arrivals) {
            placePacket(order, packet(first + i));
            taken.push(...takeAll(order));
          }
          expect(taken).toEqual(Array.from({ length: 200 }, (_, i) => (first + i) & 0xffff));
        },
      ),
      { numRuns: 50 },
    );
  });
});
