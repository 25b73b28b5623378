import { McapRecordBuilder } from '@mcap/core';
import type { Random } from '../../src/core/maths/random.ts';
import { walkRecords } from './walk-records.ts';

/** A hostile copy of a file, and how much of it is still as it was. */
export interface Mutant {
  readonly bytes: Uint8Array;
  /** Nothing before this byte was changed. */
  readonly soundBytes: number;
}

const whole = (random: Random, below: number): number => Math.floor(random.uniform(0, below));
const pick = <T>(random: Random, from: readonly T[]): T => from[whole(random, from.length)]!;

/** Lengths that overflow 32 and 53 bits, signed and unsigned, and those that are off by a little. */
const LENGTHS = [
  0n,
  1n,
  9n,
  2n ** 31n,
  2n ** 32n,
  2n ** 53n - 1n,
  2n ** 53n,
  2n ** 63n,
  2n ** 64n - 1n,
];

/** Description or event as texts that parsers and screens have choked on. */
const HOSTILE_TEXTS: readonly string[] = [
  `${'['.repeat(50_000)}${']'.repeat(50_000)}`,
  `${'{"setId":'.repeat(20_000)}1${'}'.repeat(20_000)}`,
  `{"type":${'['.repeat(9000)}${']'.repeat(9000)}}`,
  `{"type":"note","text":"${'x'.repeat(200_000)}"}`,
  '{"type":"note","text":"<script>alert(1)</script>"}',
  '{"type":"note","text":"\\ud800 lone \\u0000 nul \\u202e turned"}',
  '{"type":"score","contactTimeUs":1e999,"points":-1e999}',
  '{"type":"block-began","condition":{"implement":"<img src=x onerror=alert(1)>"}}',
  '{"__proto__":{"type":"note"},"constructor":{"prototype":1}}',
  '{"type":"clock-ping","segment":"__proto__","sentTimeUs":0,"tick":0}',
  '{"type":"packets-lost","segment":"forearm","firstSequence":0,"count":65536}',
  'null',
  '"',
  '',
];

/** Changes a copy of a set file; the base must be whole. */
type Mutation = (base: Uint8Array, random: Random) => Mutant;

const changeBytes: Mutation = (base, random) => {
  const bytes = base.slice();
  let soundBytes = bytes.length;
  for (let n = 1 + whole(random, 20); n > 0; n--) {
    const at = whole(random, bytes.length);
    bytes[at] = whole(random, 256);
    soundBytes = Math.min(soundBytes, at);
  }
  return { bytes, soundBytes };
};

const changeLength: Mutation = (base, random) => {
  const bytes = base.slice();
  const { start } = pick(random, walkRecords(base));
  const fields = new DataView(bytes.buffer);
  if (random.uniform(0, 1) < 0.7) fields.setBigUint64(start + 1, pick(random, LENGTHS), true);
  else fields.setBigUint64(start + 1, fields.getBigUint64(start + 1, true) + 1n, true);
  return { bytes, soundBytes: start };
};

/** Counts and lengths of strings lie anywhere in the content. */
const changeInnerLength: Mutation = (base, random) => {
  const bytes = base.slice();
  const { start, end } = pick(random, walkRecords(base));
  const at = start + 9 + whole(random, Math.max(1, Math.min(end - start - 13, 40)));
  new DataView(bytes.buffer).setUint32(at, pick(random, [0, 1, 0x7fffffff, 0xffffffff]), true);
  return { bytes, soundBytes: start };
};

const moveRecords: Mutation = (base, random) => {
  const spans = walkRecords(base);
  const from = pick(random, spans);
  const to = pick(random, spans);
  const record = base.subarray(from.start, from.end);
  const parts =
    random.uniform(0, 1) < 0.5
      ? [base.subarray(0, to.start), record, base.subarray(to.start)]
      : [base.subarray(0, from.start), base.subarray(from.end)];
  return {
    bytes: new Uint8Array(Buffer.concat(parts)),
    soundBytes: Math.min(from.start, to.start),
  };
};

const cutAndFill: Mutation = (base, random) => {
  const soundBytes = whole(random, base.length);
  const tail = Uint8Array.from({ length: whole(random, 400) }, () => whole(random, 256));
  return { bytes: new Uint8Array([...base.subarray(0, soundBytes), ...tail]), soundBytes };
};

/** A record of a hostile text as description, event or note before the last records. */
const insertText: Mutation = (base, random) => {
  const text = pick(random, HOSTILE_TEXTS);
  const builder = new McapRecordBuilder();
  const data = new TextEncoder().encode(text);
  const isHead = random.uniform(0, 1) < 0.5;
  if (isHead) {
    const metadata = new Map([
      ['formatVersion', '1'],
      ['description', text],
    ]);
    builder.writeMetadata({ name: 'set', metadata });
  } else {
    const channelId = 1 + whole(random, 8);
    builder.writeMessage({ channelId, sequence: 0, logTime: 0n, publishTime: 0n, data });
  }
  const spans = walkRecords(base);
  // Behind the header: as the first description, or anywhere later.
  const at = isHead ? spans[0]!.end : pick(random, spans.slice(1)).start;
  const parts = [base.subarray(0, at), builder.buffer, base.subarray(at)];
  return { bytes: new Uint8Array(Buffer.concat(parts)), soundBytes: at };
};

/** Chunks that lie about what is in them, compressed or not; none ever occurs in a set file. */
const insertChunk: Mutation = (base, random) => {
  const spans = walkRecords(base);
  const inside = pick(random, spans);
  const builder = new McapRecordBuilder();
  const compression = pick(random, ['', 'zstd', 'lz4', 'x'.repeat(5000)]);
  builder.writeChunk({
    messageStartTime: 0n,
    messageEndTime: 2n ** 64n - 1n,
    uncompressedSize: pick(random, LENGTHS),
    uncompressedCrc: whole(random, 2),
    compression,
    records: base.subarray(inside.start, inside.end - whole(random, 3)),
  });
  const at = pick(random, spans.slice(1)).start;
  const parts = [base.subarray(0, at), builder.buffer, base.subarray(at)];
  return { bytes: new Uint8Array(Buffer.concat(parts)), soundBytes: at };
};

const wrongMagic: Mutation = (base, random) => {
  const bytes = base.slice();
  bytes[whole(random, 8)]! ^= 1 << whole(random, 8);
  return { bytes, soundBytes: 0 };
};

const MUTATIONS: readonly Mutation[] = [
  changeBytes,
  changeLength,
  changeInnerLength,
  moveRecords,
  cutAndFill,
  insertText,
  insertChunk,
];

/**
 * One of many ways to damage a file or to make it hostile; now and then two at once.
 * @param base a whole MCAP file
 */
export function mutate(base: Uint8Array, random: Random): Mutant {
  if (random.uniform(0, 1) < 0.02) return wrongMagic(base, random);
  const once = pick(random, MUTATIONS)(base, random);
  if (random.uniform(0, 1) < 0.8) return once;
  return random.uniform(0, 1) < 0.5 ? changeBytesOf(once, random) : cutShort(once, random);
}

function changeBytesOf({ bytes, soundBytes }: Mutant, random: Random): Mutant {
  const changed = changeBytes(bytes, random);
  return { bytes: changed.bytes, soundBytes: Math.min(soundBytes, changed.soundBytes) };
}

function cutShort({ bytes, soundBytes }: Mutant, random: Random): Mutant {
  const length = whole(random, bytes.length);
  return { bytes: bytes.slice(0, length), soundBytes: Math.min(soundBytes, length) };
}
