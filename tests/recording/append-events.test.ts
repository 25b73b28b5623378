import { readFileSync } from 'node:fs';
import { McapStreamReader } from '@mcap/core';
import { describe, expect, it } from 'vitest';
import { AppendError, appendEvents } from '../../src/core/recording/append-events.ts';
import { readSet } from '../../src/core/recording/set-reader.ts';
import type { SetEvent } from '../../src/core/recording/set-record.ts';
import { sampleRecords, setFile } from './sample-set.ts';

const file = new Uint8Array(readFileSync('recorded-streams/player-a-short-racket.mcap'));
const EVENTS: readonly SetEvent[] = [
  { type: 'discarded', contactTimeUs: 3e6, reason: 'the ball hit the net' },
  { type: 'discard-withdrawn', contactTimeUs: 3e6 },
];

function edited(bytes: Uint8Array, events: readonly SetEvent[] = EVENTS): Uint8Array {
  const { keptBytes, tail } = appendEvents(bytes, events);
  return Uint8Array.from([...bytes.subarray(0, keptBytes), ...tail]);
}

function setOf(bytes: Uint8Array) {
  const result = readSet(bytes);
  if (!result.ok) throw new Error(result.error.message);
  return result.set;
}

describe('events added later', () => {
  it('follow what was recorded, of which no byte changes, and the file is whole again', () => {
    const before = setOf(file);
    const bytes = edited(file);
    const after = setOf(bytes);
    expect(after.complete).toBe(true);
    expect(after.records).toHaveLength(before.records.length + EVENTS.length);
    const added = after.records.slice(before.records.length);
    expect(added.map((record) => record.kind === 'event' && record.event)).toEqual(EVENTS);
    expect(
      Buffer.compare(bytes.subarray(0, before.recordsEndAt), file.subarray(0, before.recordsEndAt)),
    ).toBe(0);
  });

  it('can be added again and again', () => {
    const twice = setOf(edited(edited(file)));
    expect(twice.complete).toBe(true);
    expect(twice.records).toHaveLength(setOf(file).records.length + 2 * EVENTS.length);
  });

  it('give a file the reader of @mcap/core checks and accepts, checksum included', () => {
    const reader = new McapStreamReader({ validateCrcs: true });
    reader.append(edited(file));
    let messages = 0;
    for (let item = reader.nextRecord(); item !== undefined; item = reader.nextRecord()) {
      if (item.type === 'Message') messages++;
    }
    expect(reader.done()).toBe(true);
    expect(messages).toBe(setOf(file).records.length + EVENTS.length);
  });

  it('end a set that was cut off, behind its last whole record', () => {
    const open = setFile(sampleRecords, undefined, false);
    const cut = open.subarray(0, open.length - 5);
    const after = setOf(edited(cut));
    expect(after.complete).toBe(true);
    expect(after.records).toHaveLength(sampleRecords.length - 1 + EVENTS.length);
  });

  it('are refused where something readable might be lost, with the reason', () => {
    expect(() => appendEvents(Uint8Array.of(1, 2, 3), EVENTS)).toThrow(AppendError);
    const whole = setFile(sampleRecords);
    // where the seventh record begins: an absurd length
    const at = setFile(sampleRecords.slice(0, 6), undefined, false).length;
    const damaged = whole.slice().fill(0xff, at + 1, at + 9);
    expect(() => appendEvents(damaged, EVENTS)).toThrow(/damaged/);
  });
});
