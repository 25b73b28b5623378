import { crc32Final, crc32Init, crc32Update } from '@foxglove/crc';
import { McapRecordBuilder } from '@mcap/core';
import { readDescription } from './description-json.ts';
import { EVENT_SCHEMA, readEvent } from './event-json.ts';
import type { SetDescription } from './set-description.ts';
import {
  EVENT_SCHEMA_ID,
  FORMAT_VERSION,
  fileTimeNs,
  METADATA_NAME,
  SET_CHANNELS,
  SET_PROFILE,
  type SetChannel,
  topicOf,
} from './set-file-format.ts';
import type { SetRecord } from './set-record.ts';
import { bytesFromText } from './text-bytes.ts';

/** Where a set file goes. Bytes are appended in order; a failure is thrown, never swallowed. */
export interface ByteSink {
  append(bytes: Uint8Array): void;
}

const CHANNEL_IDS = new Map(SET_CHANNELS.map((channel, i) => [topicOf(channel), i + 1]));

/**
 * Writes one set as it happens (recorded-streams/FORMAT.md). Every record reaches the sink before
 * `append` or `send` returns, whole and in order, so that a crash costs at most the record being written.
 *
 * Built on the record encoder of `@mcap/core` and not on its McapWriter: that one keeps unchunked
 * messages in memory until the end, and is asynchronous.
 */
export class SetWriter {
  readonly #sink: ByteSink;
  readonly #builder = new McapRecordBuilder();
  #crc = crc32Init();
  #records = 0;
  #added = 0;
  #bytes = 0;

  private constructor(sink: ByteSink) {
    this.#sink = sink;
  }

  /**
   * Starts a file: head, description and channels go to the sink at once.
   * @throws ShapeError when the description could not be read back
   * @throws whatever the sink throws
   */
  static open(sink: ByteSink, description: SetDescription): SetWriter {
    const checked = readDescription(description);
    const writer = new SetWriter(sink);
    const builder = writer.#builder;
    builder.writeMagic();
    builder.writeHeader({
      profile: SET_PROFILE,
      library: `${SET_PROFILE} ${checked.programVersion}`,
    });
    builder.writeMetadata({
      name: METADATA_NAME,
      metadata: new Map([
        ['formatVersion', FORMAT_VERSION],
        ['description', JSON.stringify(checked)],
      ]),
    });
    builder.writeSchema({
      id: EVENT_SCHEMA_ID,
      name: EVENT_SCHEMA.title,
      encoding: 'jsonschema',
      data: bytesFromText(JSON.stringify(EVENT_SCHEMA)),
    });
    for (const channel of SET_CHANNELS) writer.#writeChannel(channel);
    writer.#send();
    return writer;
  }

  /**
   * Goes on behind the records of a file that was written before.
   * @param kept its bytes up to there, which the sink has already
   * @param records how many records they hold: the next one's sequence number
   */
  static resume(sink: ByteSink, kept: Uint8Array, records: number): SetWriter {
    const writer = new SetWriter(sink);
    writer.#crc = crc32Update(writer.#crc, kept);
    writer.#records = records;
    writer.#bytes = kept.length;
    return writer;
  }

  /** Records written so far. */
  get records(): number {
    return this.#records;
  }

  /** Bytes given to the sink so far. */
  get bytes(): number {
    return this.#bytes;
  }

  /**
   * Appends one record: {@link add} and {@link send} in one.
   * @throws ShapeError or RangeError when an event or a time could not be read back; nothing is
   *   written then
   * @throws whatever the sink throws; the file may then end in a cut record, which readers allow
   */
  append(record: SetRecord): void {
    this.add(record);
    this.send();
  }

  /**
   * Puts one record in line for the next {@link send}: many records that arrive together cost one write.
   * @throws ShapeError or RangeError when an event or a time could not be read back; it is left out then
   */
  add(record: SetRecord): void {
    const logTime = fileTimeNs(record.hostTimeUs);
    const data =
      record.kind === 'event'
        ? bytesFromText(JSON.stringify(readEvent(record.event)))
        : record.bytes;
    this.#builder.writeMessage({
      channelId: CHANNEL_IDS.get(topicOf(record))!,
      sequence: (this.#records + this.#added) >>> 0,
      logTime,
      publishTime: logTime,
      data,
    });
    this.#added += 1;
  }

  /**
   * Gives what is in line to the sink.
   * @throws whatever the sink throws; the file may then end in a cut record, which readers allow
   */
  send(): void {
    if (this.#added === 0) return;
    const added = this.#added;
    this.#added = 0;
    this.#send();
    this.#records += added;
  }

  /**
   * Closes the file with its checksum. Nothing may be appended afterwards.
   * @throws whatever the sink throws
   */
  end(): void {
    this.#builder.writeDataEnd({ dataSectionCrc: crc32Final(this.#crc) });
    this.#builder.writeFooter({ summaryStart: 0n, summaryOffsetStart: 0n, summaryCrc: 0 });
    this.#builder.writeMagic();
    this.#send();
  }

  #writeChannel(channel: SetChannel): void {
    const isEvent = channel.kind === 'event';
    this.#builder.writeChannel({
      id: CHANNEL_IDS.get(topicOf(channel))!,
      schemaId: isEvent ? EVENT_SCHEMA_ID : 0,
      topic: topicOf(channel),
      messageEncoding: isEvent ? 'json' : `${SET_PROFILE}-${channel.kind}`,
      metadata: new Map(),
    });
  }

  #send(): void {
    const bytes = this.#builder.buffer;
    this.#builder.reset();
    this.#sink.append(bytes);
    this.#crc = crc32Update(this.#crc, bytes);
    this.#bytes += bytes.length;
  }
}
