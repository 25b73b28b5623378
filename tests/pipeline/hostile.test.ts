import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  decodeStreamPacket,
  encodeStreamPacket,
  type StreamPacket,
} from '../../src/core/packets/stream-packet.ts';
import { createPipeline, stepPipeline, viewPipeline } from '../../src/core/pipeline/pipeline.ts';
import type { SetRecord } from '../../src/core/recording/set-record.ts';
import { simulatedSet } from './simulated-set.ts';

const { session, records } = simulatedSet({ swings: 1, swingIntervalS: 4 });

/** The set with every packet of one sensor replaced by whatever `change` makes of it. */
function view(change: (packet: StreamPacket, index: number) => Uint8Array[]) {
  const state = createPipeline(session.description);
  let index = 0;
  for (const record of records) {
    let changed: SetRecord[] = [record];
    if (record.kind === 'notification' && record.segment === 'upperArm') {
      const decoded = decodeStreamPacket(record.bytes);
      if (!decoded.ok) throw new Error(decoded.fault.message);
      changed = change(decoded.packet, index++).map((bytes) => ({ ...record, bytes }));
    }
    for (const one of changed) stepPipeline(state, one);
  }
  return viewPipeline(state);
}

const sound = view((packet) => [encodeStreamPacket(packet)]);

describe('one hostile or broken sensor', () => {
  it.each([
    ['bytes of no meaning', () => [Uint8Array.of(1, 2, 3)], /fewer than/],
    ['another version', (p: StreamPacket) => [encodeStreamPacket(p).fill(9, 0, 1)], /version 9/],
    ['a bad checksum', (p: StreamPacket) => [encodeStreamPacket(p).fill(0, 30, 40)], /checksum/],
    [
      'a tick that runs backwards',
      (p: StreamPacket, i: number) => [
        encodeStreamPacket({ ...p, firstTick: (2 ** 31 - i * 60_000 + 2 ** 32) % 2 ** 32 }),
      ],
      /ran backwards/,
    ],
    [
      'every packet twice',
      (p: StreamPacket) => [encodeStreamPacket(p), encodeStreamPacket(p)],
      /twice/,
    ],
    [
      'ten times the rate',
      (p: StreamPacket) => [encodeStreamPacket({ ...p, spanTicks: Math.round(p.spanTicks / 10) })],
      /samples per second/,
    ],
  ] as const)('that sends %s is named, and the others go on', (_name, change, words) => {
    const now = view(change as Parameters<typeof view>[0]);
    expect(now.sensors.upperArm.lastFault).toMatch(words);
    for (const segment of ['forearm', 'implement'] as const) {
      expect(now.sensors[segment].samples).toBe(sound.sensors[segment].samples);
      expect(now.sensors[segment].refusedPackets).toBe(0);
    }
  });

  it('never throws, whatever fields its packets carry, and cannot touch the others', () => {
    const field = fc.record({
      sequence: fc.integer({ min: 0, max: 65535 }),
      firstTick: fc.integer({ min: 0, max: 2 ** 32 - 1 }),
      spanTicks: fc.integer({ min: 9, max: 2 ** 31 - 1 }),
      resent: fc.boolean(),
      extreme: fc.boolean(),
    });
    fc.assert(
      fc.property(fc.array(field, { minLength: 1, maxLength: 30 }), (fields) => {
        const now = view((packet, i) => {
          const { extreme, ...change } = fields[i % fields.length]!;
          const samples = extreme
            ? packet.samples.map((_, k) => (k % 2 ? 32767 : -32768))
            : packet.samples;
          // every third packet stays as it was: a mixture of sense and nonsense is worse than nonsense
          return [encodeStreamPacket(i % 3 === 0 ? packet : { ...packet, ...change, samples })];
        });
        expect(now.sensors.forearm.samples).toBe(sound.sensors.forearm.samples);
      }),
      { numRuns: 40 },
    );
  });

  it('never throws at arbitrary bytes', () => {
    fc.assert(
      fc.property(fc.array(fc.uint8Array({ maxLength: 260 }), { minLength: 1 }), (noise) => {
        const now = view((_packet, i) => [noise[i % noise.length]!]);
        expect(now.sensors.upperArm.packets).toBe(0);
        expect(now.sensors.forearm.samples).toBe(sound.sensors.forearm.samples);
      }),
      { numRuns: 30 },
    );
  });
});
