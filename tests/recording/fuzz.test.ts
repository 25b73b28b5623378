import { readFileSync } from 'node:fs';
import { beforeAll, describe, expect, it } from 'vitest';
import { seededRandom } from '../../src/core/maths/random.ts';
import { createPipeline, stepPipeline, viewPipeline } from '../../src/core/pipeline/pipeline.ts';
import { readSet, type StoredSet } from '../../src/core/recording/set-reader.ts';
import { mutate } from './fuzz-mutations.ts';
import { isSameRecord } from './same-record.ts';
import { setFile } from './sample-set.ts';
import { MESSAGE, walkRecords } from './walk-records.ts';

const FILES = 10_000;
const SEED = 20_261;
/** A screen has to show it. */
const LONGEST_MESSAGE = 700;

let base: Uint8Array;
let sound: StoredSet;

beforeAll(() => {
  const demo = read(readFileSync('recorded-streams/player-a-short-racket.mcap'));
  const events = demo.records.filter(({ kind }) => kind === 'event');
  base = setFile([...demo.records.slice(0, 40), ...events.slice(-12)], demo.description);
  sound = read(base);
});

function read(bytes: Uint8Array): StoredSet {
  const result = readSet(bytes);
  if (!result.ok) throw new Error(result.error.message);
  return result.set;
}

/** Bytes that the records hold between them. */
function heldBytes({ records }: StoredSet): number {
  return records.reduce(
    (sum, record) =>
      sum + (record.kind === 'event' ? JSON.stringify(record).length : record.bytes.length),
    0,
  );
}

describe(`${FILES} mutated and hostile files`, () => {
  it('are each refused in words or give the records before the damage, never more than they hold', {
    timeout: 120_000,
  }, () => {
    const spans = walkRecords(base);
    // What follows the last message is the end mark, which holds nothing of the set.
    const checkedBytes = spans.findLast(({ opcode }) => opcode === MESSAGE)!.end;
    const messageEnds = spans.filter(({ opcode }) => opcode === MESSAGE).map(({ end }) => end);
    const wrong: string[] = [];
    const seen = { refused: 0, opened: 0, whole: 0 };
    for (let i = 0; i < FILES; i++) {
      const { bytes, soundBytes } = mutate(base, seededRandom(SEED + i));
      const result = readSet(bytes);
      const message = result.ok ? result.set.fault : result.error.message;
      if ((message ?? '').length > LONGEST_MESSAGE) wrong.push(`${i}: a message too long to show`);
      if (!result.ok) {
        seen.refused += 1;
        if (!/(Choose|choose|Update)/.test(result.error.message)) wrong.push(`${i}: ${message}`);
        continue;
      }
      const { set } = result;
      seen[set.complete ? 'whole' : 'opened'] += 1;
      const kept = messageEnds.filter((end) => end <= soundBytes).length;
      const isPrefix =
        set.records.length >= kept &&
        sound.records.slice(0, kept).every((record, r) => isSameRecord(record, set.records[r]!));
      if (!isPrefix) wrong.push(`${i}: not the ${kept} records before byte ${soundBytes}`);
      // Text in JSON escapes is longer in memory by at most six.
      if (heldBytes(set) > 6 * bytes.length) wrong.push(`${i}: holds more than the file`);
      if (set.complete && soundBytes < checkedBytes && Buffer.compare(bytes, base) !== 0)
        wrong.push(`${i}: taken for whole`);
    }
    expect(wrong).toEqual([]);
    // Every outcome has been met, else the mutations test nothing.
    expect(Math.min(seen.refused, seen.opened)).toBeGreaterThan(FILES / 10);
  });

  it('never stop the pipeline', { timeout: 120_000 }, () => {
    for (let i = 0; i < FILES / 10; i++) {
      const result = readSet(mutate(base, seededRandom(SEED + i)).bytes);
      if (!result.ok) continue;
      const state = createPipeline(result.set.description);

      for (const record of result.set.records) stepPipeline(state, record);
      expect(viewPipeline(state).swings).toEqual([]);
    }
  });
});
