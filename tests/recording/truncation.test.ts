import { readFileSync } from 'node:fs';
import { beforeAll, describe, expect, it } from 'vitest';
import { readSet, type StoredSet } from '../../src/core/recording/set-reader.ts';
import type { SetRecord } from '../../src/core/recording/set-record.ts';
import { isSameRecord } from './same-record.ts';
import { setFile } from './sample-set.ts';
import { MESSAGE, type RecordSpan, walkRecords } from './walk-records.ts';

const TAIL_BYTES = 65_536;
/** Opcode of a Metadata record: once it is whole the set can be opened. */
const METADATA = 0x0c;
const FOOTER = 0x02;

let whole: Uint8Array;
let records: readonly SetRecord[];
let spans: readonly RecordSpan[];

/** A little more than the tail to be cut: records from the middle of a demo set, notifications made longer. */
beforeAll(() => {
  const demo = stored(readFileSync('recorded-streams/player-a-short-racket.mcap'));
  records = [...demo.records.slice(0, 3), ...demo.records.slice(1000, 1135).map(atLongest)];
  whole = setFile(records, demo.description);
  spans = walkRecords(whole);
});

/** As long as Bluetooth allows (Core Specification, Vol 3, Part F, 3.2.9: 512 bytes), which keeps the test quick. */
function atLongest(record: SetRecord): SetRecord {
  if (record.kind === 'event') return record;
  const bytes = Uint8Array.from({ length: 512 }, (_, i) => record.bytes.at(i % 136)!);
  return { ...record, bytes };
}

function stored(bytes: Uint8Array): StoredSet {
  const result = readSet(bytes);
  if (!result.ok) throw new Error(result.error.message);
  return result.set;
}

/** How many records and bytes a file cut here must give and lose, by the spans alone. */
function truthAt(cut: number): { readonly kept: number; readonly wholeBytes: number } {
  const before = spans.filter(({ end }) => end <= cut);
  return {
    kept: before.filter(({ opcode }) => opcode === MESSAGE).length,
    // Footer and closing magic are one mark: either both are there or the end is missing.
    wholeBytes: before.findLast(({ opcode }) => opcode !== FOOTER)?.end ?? 0,
  };
}

describe('a set file cut at every byte', () => {
  it('of its last 64 kB gives the records before the cut, says so and how many bytes are lost', {
    timeout: 120_000,
  }, () => {
    expect(whole.length).toBeGreaterThan(TAIL_BYTES);
    let truth = truthAt(whole.length - TAIL_BYTES);
    let next = spans.findIndex(({ end }) => end > whole.length - TAIL_BYTES);
    const wrong: string[] = [];
    for (let cut = whole.length - TAIL_BYTES; cut < whole.length; cut++) {
      if (spans[next]?.end === cut) truth = truthAt(spans[next++]!.end);
      const set = stored(whole.subarray(0, cut));
      const isPrefix =
        set.records.length === truth.kept &&
        set.records.every((r, i) => isSameRecord(r, records[i]!));
      if (!isPrefix) wrong.push(`${cut}: not the ${truth.kept} records before the cut`);
      if (set.lostBytes !== cut - truth.wholeBytes) wrong.push(`${cut}: lost ${set.lostBytes}`);
      if (set.complete || set.skippedRecords > 0) wrong.push(`${cut}: taken for whole`);
      if (set.fault?.includes('cut off') !== true) wrong.push(`${cut}: ${set.fault}`);
    }
    expect(wrong).toEqual([]);
    expect(stored(whole).complete).toBe(true);
  });

  it('of its head is refused in words until the description is whole', () => {
    const described = spans.find(({ opcode }) => opcode === METADATA)!.end;
    for (let cut = 0; cut < described; cut++) {
      const result = readSet(whole.subarray(0, cut));
      expect(!result.ok && result.error.message).toMatch(/(Choose|choose) another|Choose a file/);
    }
    expect(stored(whole.subarray(0, described)).records).toEqual([]);
  });

  // A file system that kept the length of a file but not its last blocks gives zeros back.
  it('and filled up with zeros gives the same records', { timeout: 60_000 }, () => {
    const messages = spans.filter(({ opcode }) => opcode === MESSAGE);
    for (let cut = whole.length - 3000; cut < whole.length; cut++) {
      const bytes = whole.slice();
      bytes.fill(0, cut);
      const set = stored(bytes);
      const sure = messages.filter(({ end }) => end <= cut).length;
      // One more at most: the record in which the zeros begin can still look sound.
      expect(set.records.length + set.skippedRecords - sure).toBeLessThanOrEqual(1);
      expect(set.records.slice(0, sure).every((r, i) => isSameRecord(r, records[i]!))).toBe(true);
      if (Buffer.compare(bytes, whole) !== 0) expect(set.complete).toBe(false);
    }
  });
});
