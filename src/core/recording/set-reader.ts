import { crc32 } from '@foxglove/crc';
import { hasMcapPrefix, McapStreamReader, type McapTypes } from '@mcap/core';
import { readDescription } from './description-json.ts';
import { readEvent } from './event-json.ts';
import { parseJson, ShapeError } from './json-shape.ts';
import type { SetDescription } from './set-description.ts';
import type { SetFileError } from './set-file-error.ts';
import {
  FORMAT_VERSION,
  METADATA_NAME,
  SET_CHANNELS,
  SET_PROFILE,
  type SetChannel,
  topicOf,
} from './set-file-format.ts';
import type { SetRecord } from './set-record.ts';
import { textFromBytes } from './text-bytes.ts';

/** What a set file holds. */
export interface StoredSet {
  readonly description: SetDescription;
  /** In the order they were recorded. */
  readonly records: readonly SetRecord[];
  /** The file was ended properly and nothing in it was changed since. */
  readonly complete: boolean;
  /** Bytes behind the last whole record, which could not be read. */
  readonly lostBytes: number;
  /** Where more records can follow: behind the last whole one, before any end mark, bytes. */
  readonly recordsEndAt: number;
  /** Sequence number of the next record. */
  readonly nextSequence: number;
  /** From somewhere on the bytes make no sense; what lies behind cannot be read. */
  readonly isDamaged: boolean;
  /** Whole records that were not understood and left out. */
  readonly skippedRecords: number;
  /** First thing found wrong, in words; null when complete. */
  readonly fault: string | null;
}

/** A set, whole or with what could be saved of it, or why the file is no set. */
export type ReadSetResult =
  | { readonly ok: true; readonly set: StoredSet }
  | { readonly ok: false; readonly error: SetFileError };

/** Fed in pieces so that the reader's own buffer stays small beside a large file. */
const PIECE_BYTES = 1 << 18;
/** Longest quotation in a message, characters. */
const MAX_QUOTED = 200;
const NO_HEADER =
  'This is not a set file: it has no header record. Choose a file ending in .mcap that this program wrote.';

/**
 * Reads a set file (recorded-streams/FORMAT.md). Never throws on what the bytes hold: a cut file
 * gives everything before the cut, a file that is no set gives a named error.
 * @param bytes the whole file
 * @returns records that own their bytes; host times as `atFileTime` gave them
 */
export function readSet(bytes: Uint8Array): ReadSetResult {
  if (bytes.length === 0) {
    return fail('empty', 'The file is empty. Choose another file, or export the set again.');
  }
  if (!hasMcapPrefix(view(bytes))) {
    return fail(
      'not-a-set-file',
      'This is not a set file: it does not begin like one. Choose a file ending in .mcap that this program wrote.',
    );
  }
  const reading = new Reading(bytes);
  scan(bytes, reading);
  return reading.result();
}

/** Walks the records up to the end, the cut, or the first byte that makes no sense. */
function scan(bytes: Uint8Array, reading: Reading): void {
  // Chunks never occur in our files and could be compressed; the reader then reports them.
  const reader = new McapStreamReader();
  let wholeBytes = 0;
  try {
    for (let fed = 0; fed < bytes.length && !reading.isOver; fed += PIECE_BYTES) {
      reader.append(bytes.subarray(fed, fed + PIECE_BYTES));
      const end = Math.min(fed + PIECE_BYTES, bytes.length);
      for (let item = reader.nextRecord(); item !== undefined; item = reader.nextRecord()) {
        reading.take(item, wholeBytes);
        wholeBytes = end - reader.bytesRemaining();
        if (reading.isOver) return;
      }
    }
    reading.takeLast(reader.done());
  } catch (error) {
    // The library throws plain errors on damage; which one matters to people only.
    const words = error instanceof Error ? error.message : String(error);
    reading.isDamaged = true;
    // It quotes the file, which may be hostile.
    reading.note(`The file is damaged: ${words.slice(0, MAX_QUOTED)}.`);
  }
  reading.lostBytes = bytes.length - wholeBytes;
}

/** What has been understood of a file so far. */
class Reading {
  lostBytes = 0;
  isDamaged = false;
  #error: SetFileError | null = null;
  #description: SetDescription | null = null;
  #fault: string | null = null;
  #hasHeader = false;
  #hasEnded = false;
  #skipped = 0;
  #nextSequence = 0;
  #endsAt: number | null = null;
  readonly #records: SetRecord[] = [];
  readonly #channels = new Map<number, SetChannel>();
  readonly #file: Uint8Array;

  constructor(file: Uint8Array) {
    this.#file = file;
  }

  /** True once the file has turned out to be no set of ours. */
  get isOver(): boolean {
    return this.#error !== null;
  }

  /** @param startsAt where in the file this item begins, bytes */
  take(item: McapTypes.TypedMcapRecord, startsAt: number): void {
    if (item.type === 'Header') this.#takeHeader(item);
    else if (!this.#hasHeader) this.#refuse('not-a-set-file', NO_HEADER);
    else if (this.#hasEnded) this.#takeAfterEnd(item);
    else if (item.type === 'Metadata') this.#takeMetadata(item);
    else if (item.type === 'Channel') this.#takeChannel(item);
    else if (item.type === 'Message') this.#takeMessage(item);
    else if (item.type === 'DataEnd') this.#takeEnd(item, startsAt);
  }

  /** Keeps the first thing found wrong; later ones mostly follow from it. */
  note(fault: string): void {
    this.#fault ??= fault;
  }

  /** @param hasFooter the end mark is whole */
  takeLast(hasFooter: boolean): void {
    if (hasFooter && this.#hasEnded) return;
    const where = this.#hasEnded ? 'in its end mark; no record is missing' : 'before its end';
    this.note(`The file was cut off ${where}.`);
  }

  result(): ReadSetResult {
    if (this.#error !== null) return { ok: false, error: this.#error };
    if (this.#description === null) {
      return fail(
        'no-description',
        `The file holds no description of a set. ${this.#fault ?? ''} It cannot be read; choose another copy.`,
      );
    }
    return {
      ok: true,
      set: {
        description: this.#description,
        records: this.#records,
        complete: this.#fault === null,
        lostBytes: this.lostBytes,
        recordsEndAt: this.#endsAt ?? this.#file.length - this.lostBytes,
        nextSequence: this.#nextSequence >>> 0,
        isDamaged: this.isDamaged,
        skippedRecords: this.#skipped,
        fault: this.#fault,
      },
    };
  }

  #takeHeader(header: McapTypes.Header): void {
    this.#hasHeader = true;
    if (header.profile !== SET_PROFILE) {
      this.#refuse(
        'wrong-profile',
        `This file was made by another program (profile '${header.profile.slice(0, 40)}'). Choose a set file of this program.`,
      );
    }
  }

  #takeMetadata(metadata: McapTypes.Metadata): void {
    if (metadata.name !== METADATA_NAME || this.#description !== null) return;
    const version = metadata.metadata.get('formatVersion');
    if (version !== FORMAT_VERSION) {
      this.#refuse(
        'wrong-version',
        `The file has format version '${String(version).slice(0, 20)}'; this program reads version ${FORMAT_VERSION}. Update the program.`,
      );
      return;
    }
    try {
      this.#description = readDescription(
        parseJson(metadata.metadata.get('description') ?? '', 'the set description'),
      );
    } catch (error) {
      if (!(error instanceof ShapeError)) throw error;
      this.#refuse(
        'bad-description',
        `The description of the set is wrong: ${error.message}. Choose another copy of the file.`,
      );
    }
  }

  #takeChannel(item: McapTypes.Channel): void {
    const channel = SET_CHANNELS.find((known) => topicOf(known) === item.topic);
    if (channel !== undefined) this.#channels.set(item.id, channel);
  }

  #takeMessage(message: McapTypes.Message): void {
    if (message.sequence !== this.#nextSequence >>> 0) {
      this.note(`Records are missing or out of order at record ${this.#nextSequence}.`);
    }
    this.#nextSequence = message.sequence + 1;
    try {
      this.#records.push(recordFrom(message, this.#channels.get(message.channelId)));
    } catch (error) {
      if (!(error instanceof ShapeError || error instanceof TypeError)) throw error;
      this.#skipped += 1;
      this.note(`Record ${message.sequence} was left out: ${error.message}.`);
    }
  }

  #takeEnd(end: McapTypes.DataEnd, startsAt: number): void {
    this.#hasEnded = true;
    this.#endsAt = startsAt;
    if (end.dataSectionCrc === 0) return;
    if (end.dataSectionCrc !== crc32(this.#file.subarray(0, startsAt))) {
      this.note('The file was changed after it was recorded: its checksum does not fit.');
    }
  }

  /** The checksum does not cover it: other programs may add a summary, but no records. */
  #takeAfterEnd(item: McapTypes.TypedMcapRecord): void {
    if (item.type === 'Message') this.note('There are records behind the end of the set.');
  }

  #refuse(code: SetFileError['code'], message: string): void {
    this.#error = { code, message };
  }
}

/** @throws ShapeError or TypeError (text that is not UTF-8) when the message is no record of ours */
function recordFrom(message: McapTypes.Message, channel: SetChannel | undefined): SetRecord {
  if (channel === undefined) throw new ShapeError('it belongs to no channel of a set file');
  if (message.logTime > BigInt(Number.MAX_SAFE_INTEGER)) throw new ShapeError('its time is absurd');
  const hostTimeUs = Number(message.logTime) / 1000;
  if (channel.kind !== 'event') {
    // Spelt out: spreading `channel` took most of the time of reading a long set.
    return { kind: channel.kind, segment: channel.segment, hostTimeUs, bytes: message.data };
  }
  const event = readEvent(parseJson(textFromBytes(message.data), 'the event'));
  return { kind: 'event', hostTimeUs, event };
}

function view(bytes: Uint8Array): DataView {
  return new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
}

function fail(code: SetFileError['code'], message: string): ReadSetResult {
  return { ok: false, error: { code, message } };
}
