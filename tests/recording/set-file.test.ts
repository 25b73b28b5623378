import { McapStreamReader } from '@mcap/core';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { atFileTime } from '../../src/core/recording/set-file-format.ts';
import { readSet, type StoredSet } from '../../src/core/recording/set-reader.ts';
import type { SetRecord } from '../../src/core/recording/set-record.ts';
import { SetWriter } from '../../src/core/recording/set-writer.ts';
import { sampleDescription, sampleRecords, setFile } from './sample-set.ts';

function stored(bytes: Uint8Array): StoredSet {
  const result = readSet(bytes);
  if (!result.ok) throw new Error(result.error.message);
  return result.set;
}

describe('a set file', () => {
  it('gives back description and records in their order across channels', () => {
    expect(stored(setFile(sampleRecords))).toMatchObject({
      description: sampleDescription,
      records: sampleRecords,
      complete: true,
      lostBytes: 0,
      skippedRecords: 0,
      fault: null,
    });
  });

  it('reads from a view into a larger buffer', () => {
    const bytes = setFile(sampleRecords);
    const larger = new Uint8Array(bytes.length + 9).fill(0x89);
    larger.set(bytes, 5);
    expect(stored(larger.subarray(5, 5 + bytes.length)).records).toEqual(sampleRecords);
  });

  it('is well-formed MCAP with a valid order of records for any other reader', () => {
    const reader = new McapStreamReader();
    reader.append(setFile(sampleRecords));
    const types: string[] = [];
    for (let item = reader.nextRecord(); item !== undefined; item = reader.nextRecord()) {
      types.push(item.type);
    }
    // Order as recorded-streams/FORMAT.md lists it: seven channels, twelve records.
    expect(types).toEqual([
      ...['Header', 'Metadata', 'Schema'],
      ...Array<string>(7).fill('Channel'),
      ...Array<string>(sampleRecords.length).fill('Message'),
      ...['DataEnd', 'Footer'],
    ]);
    expect(reader.done()).toBe(true);
  });

  it('keeps any times, bytes and events that fast-check thinks of', () => {
    const hostTimeUs = fc.double({ min: 0, max: 1e12, noNaN: true });
    const record: fc.Arbitrary<SetRecord> = fc.oneof(
      fc.record({
        kind: fc.constantFrom('notification' as const, 'sensor-info' as const),
        segment: fc.constantFrom('upperArm' as const, 'forearm' as const, 'implement' as const),
        hostTimeUs,
        bytes: fc.uint8Array({ maxLength: 300 }),
      }),
      fc.record({
        kind: fc.constant('event' as const),
        hostTimeUs,
        event: fc.record({
          type: fc.constant('note' as const),
          text: fc.string({ unit: 'grapheme' }),
        }),
      }),
    );
    fc.assert(
      fc.property(fc.array(record, { maxLength: 30 }), (records) => {
        expect(stored(setFile(records)).records).toEqual(records.map(atFileTime));
      }),
    );
  });
});

describe('atFileTime', () => {
  it('changes a time at most once', () => {
    fc.assert(
      fc.property(fc.double({ min: -1e6, max: 1e12, noNaN: true }), (hostTimeUs) => {
        const once = atFileTime({ kind: 'event', hostTimeUs, event: { type: 'set-ended' } });
        expect(atFileTime(once)).toBe(once);
        // Half a nanosecond is the rounding of the file's clock.
        expect(Math.abs(once.hostTimeUs - Math.max(0, hostTimeUs))).toBeLessThanOrEqual(5.001e-4);
      }),
    );
  });
});

describe('SetWriter', () => {
  it('hands every record to the sink before append returns', () => {
    let size = 0;
    const sink = { append: (bytes: Uint8Array) => (size += bytes.length) };
    const writer = SetWriter.open(sink, sampleDescription);
    for (const record of sampleRecords) {
      const before = size;
      writer.append(record);
      expect(size).toBeGreaterThan(before);
      expect(writer.bytes).toBe(size);
    }
    expect(writer.records).toBe(sampleRecords.length);
  });

  it('refuses a description it could not read back', () => {
    const sink = { append: () => undefined };
    const bad = { ...sampleDescription, setId: '../other' };
    expect(() => SetWriter.open(sink, bad)).toThrow(/setId must be/);
  });

  it('writes nothing for a record it could not read back', () => {
    let size = 0;
    const sink = { append: (bytes: Uint8Array) => (size += bytes.length) };
    const writer = SetWriter.open(sink, sampleDescription);
    const before = size;
    const event = { type: 'score', contactTimeUs: 1, points: Number.NaN } as const;
    expect(() => writer.append({ kind: 'event', hostTimeUs: 0, event })).toThrow(/points/);
    const late = { kind: 'event', hostTimeUs: Number.NaN, event: { type: 'set-ended' } } as const;
    expect(() => writer.append(late)).toThrow(/host time/);
    expect(size).toBe(before);
  });
});

describe('a cut set file', () => {
  it('says how many bytes it could not read', () => {
    const whole = setFile(sampleRecords, sampleDescription, false);
    expect(stored(whole).lostBytes).toBe(0);
    // One more record of which only 5 bytes came: opcode and part of its length.
    const cut = new Uint8Array([...whole, 5, 50, 0, 0, 0]);
    expect(stored(cut)).toMatchObject({ records: sampleRecords, lostBytes: 5, complete: false });
  });
});
