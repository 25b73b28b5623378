import { crc16 } from './crc16.ts';
import { type PacketFault, refuse } from './packet-fault.ts';

/** Layout: firmware-protocol/SPEC.md, "Stream packet". */
const STREAM_VERSION = 1;
const HEADER_BYTES = 14;
const CRC_BYTES = 2;
const VALUES_PER_SAMPLE = 6;
const SAMPLE_BYTES = 2 * VALUES_PER_SAMPLE;
const FLAG_CLIPPED = 1;
const FLAG_DROPPED = 2;
const FLAG_RESENT = 4;
const FLAG_MAGNETOMETER = 8;
const KNOWN_FLAGS = FLAG_CLIPPED | FLAG_DROPPED | FLAG_RESENT | FLAG_MAGNETOMETER;
const MAGNETOMETER_BYTES = 6;
/** A packet longer than half a turn of the tick counter could not be unwrapped. */
const MAX_SPAN_TICKS = 0x7fffffff;

/** Most samples one packet may carry. */
export const MAX_STREAM_SAMPLES = 40;

/** What a packet says of its samples. */
interface StreamHeader {
  /** A sample in this packet hit the end of the sensor's range. */
  readonly clipped: boolean;
  /** The sensor dropped samples right before this packet. */
  readonly dropped: boolean;
  /** Sent again on request. */
  readonly resent: boolean;
  /** 0..65535, wraps. */
  readonly sequence: number;
  /** Sensor tick of the first sample, 0..2^32-1, wraps. */
  readonly firstTick: number;
  /** Ticks from the first to the last sample; 0 when there is one sample. */
  readonly spanTicks: number;
}

/** One notification of a sensor's stream, raw. */
export interface StreamPacket extends StreamHeader {
  /** gx gy gz ax ay az of each sample, in units of the sensor's scales; shape (count x 6). */
  readonly samples: Int16Array;
  /** mx my mz at the last sample, in units of the sensor's scale; null when the packet has none. */
  readonly magnetometer: Int16Array | null;
}

/** A notification that was found whole, its samples still in its bytes: see {@link sampleValue}. */
export interface WholePacket extends StreamHeader {
  /** Samples in it, 1..40. */
  readonly count: number;
  readonly bytes: Uint8Array;
}

/** What a notification gives: a packet, or a named reason why not. */
type Result<Packet> =
  | { readonly ok: true; readonly packet: Packet }
  | { readonly ok: false; readonly fault: PacketFault };

/**
 * Bytes of one stream packet, checksum included.
 * @param packet 1..40 samples; see {@link StreamPacket} for units
 * @returns 16 + 12 * count bytes, 6 more with a magnetometer; little-endian, owning its buffer
 * @throws RangeError when a field does not fit its place on the wire
 * Source: firmware-protocol/SPEC.md.  Checked: firmware-protocol/vectors.json
 */
export function encodeStreamPacket(packet: StreamPacket): Uint8Array {
  const count = packet.samples.length / VALUES_PER_SAMPLE;
  if (!Number.isInteger(count) || count < 1 || count > MAX_STREAM_SAMPLES) {
    throw new RangeError(
      `a packet holds 1 to ${MAX_STREAM_SAMPLES} samples of ${VALUES_PER_SAMPLE} values, got ${packet.samples.length} values`,
    );
  }
  const { magnetometer } = packet;
  if (magnetometer !== null && magnetometer.length !== 3) {
    throw new RangeError(`a magnetometer has 3 values, got ${magnetometer.length}`);
  }
  requireUnsigned('sequence', packet.sequence, 0xffff);
  requireUnsigned('firstTick', packet.firstTick, 0xffffffff);
  requireUnsigned('spanTicks', packet.spanTicks, MAX_SPAN_TICKS);
  if (!spanFits(count, packet.spanTicks)) {
    throw new RangeError(`${count} samples cannot span ${packet.spanTicks} ticks`);
  }
  const bytes = new Uint8Array(bytesOf(count, magnetometer !== null));
  const view = new DataView(bytes.buffer);
  view.setUint8(0, STREAM_VERSION);
  view.setUint8(
    1,
    (packet.clipped ? FLAG_CLIPPED : 0) |
      (packet.dropped ? FLAG_DROPPED : 0) |
      (packet.resent ? FLAG_RESENT : 0) |
      (magnetometer === null ? 0 : FLAG_MAGNETOMETER),
  );
  view.setUint16(2, packet.sequence, true);
  view.setUint32(4, packet.firstTick, true);
  view.setUint32(8, packet.spanTicks, true);
  view.setUint8(12, count);
  const values = magnetometer === null ? packet.samples : [...packet.samples, ...magnetometer];
  values.forEach((value, i) => {
    view.setInt16(HEADER_BYTES + 2 * i, value, true);
  });
  const crcAt = bytes.length - CRC_BYTES;
  view.setUint16(crcAt, crc16(bytes.subarray(0, crcAt)), true);
  return bytes;
}

/**
 * Reads one stream packet. Never throws and never reads outside `bytes`.
 * @param bytes one whole notification, at any alignment
 * @returns the packet (its samples copied), or the first fault found
 * Source: firmware-protocol/SPEC.md.  Checked: firmware-protocol/vectors.json
 */
export function decodeStreamPacket(bytes: Uint8Array): Result<StreamPacket> {
  const checked = checkStreamPacket(bytes);
  if (!checked.ok) return checked;
  const { clipped, dropped, resent, sequence, firstTick, spanTicks, count } = checked.packet;
  const samplesEnd = HEADER_BYTES + count * SAMPLE_BYTES;
  const crcAt = bytes.length - CRC_BYTES;
  const samples = int16Values(bytes, HEADER_BYTES, samplesEnd);
  const magnetometer = samplesEnd === crcAt ? null : int16Values(bytes, samplesEnd, crcAt);
  return {
    ok: true,
    packet: { clipped, dropped, resent, sequence, firstTick, spanTicks, samples, magnetometer },
  };
}

/**
 * Value `i` of a packet's 6 count: gx gy gz ax ay az of each sample, in units of the sensor's scales. For the pipeline,
 * which looks at each once: an array for every packet would cost it more than reading them.
 */
export function sampleValue({ bytes }: WholePacket, i: number): number {
  return int16At(bytes, HEADER_BYTES + 2 * i);
}

/**
 * Checks one stream packet and reads its header. Never throws and never reads outside `bytes`; checks are made in the
 * order SPEC.md lists, so that every implementation names the same fault.
 * @param bytes one whole notification, at any alignment; the packet refers to them
 * Source: firmware-protocol/SPEC.md.  Checked: firmware-protocol/vectors.json
 */
export function checkStreamPacket(bytes: Uint8Array): Result<WholePacket> {
  if (bytes.length < HEADER_BYTES + CRC_BYTES) {
    return refuse(
      'too-short',
      `A packet has ${bytes.length} bytes, fewer than its frame of ${HEADER_BYTES + CRC_BYTES}. Check the radio link and the sensor's firmware.`,
    );
  }
  const version = bytes[0]!;
  if (version !== STREAM_VERSION) {
    return refuse(
      'wrong-version',
      `The sensor sends stream version ${version}; this program reads version ${STREAM_VERSION}. Update the sensor's firmware or this program.`,
    );
  }
  const count = bytes[12]!;
  if (count < 1 || count > MAX_STREAM_SAMPLES) {
    return refuse(
      'bad-count',
      `A packet claims ${count} samples; 1 to ${MAX_STREAM_SAMPLES} are allowed. Check the sensor's firmware.`,
    );
  }
  const flags = bytes[1]!;
  const expected = bytesOf(count, (flags & FLAG_MAGNETOMETER) !== 0);
  if (bytes.length !== expected) {
    return refuse(
      'length-mismatch',
      `A packet of ${count} samples needs ${expected} bytes but has ${bytes.length}. Check the negotiated MTU and the sensor's firmware.`,
    );
  }
  const crcAt = expected - CRC_BYTES;
  if (uint16At(bytes, crcAt) !== crc16(bytes, crcAt)) {
    return refuse(
      'bad-checksum',
      'A packet was damaged on its way (checksum). Bring the sensor closer; if every packet fails, check its firmware.',
    );
  }
  if ((flags & ~KNOWN_FLAGS) !== 0 || bytes[13]! !== 0) {
    return refuse(
      'reserved-bits',
      'A packet sets bits that version 1 reserves. Update this program, or set them to zero in the firmware.',
    );
  }
  const spanTicks = uint32At(bytes, 8);
  if (!spanFits(count, spanTicks)) {
    return refuse(
      'bad-span',
      `A packet of ${count} samples claims to span ${spanTicks} ticks. Check the tick counter in the sensor's firmware.`,
    );
  }
  return {
    ok: true,
    packet: {
      clipped: (flags & FLAG_CLIPPED) !== 0,
      dropped: (flags & FLAG_DROPPED) !== 0,
      resent: (flags & FLAG_RESENT) !== 0,
      sequence: uint16At(bytes, 2),
      firstTick: uint32At(bytes, 4),
      spanTicks,
      count,
      bytes,
    },
  };
}

// Little-endian, byte by byte: making a view of every packet costs as much as reading it.

function uint16At(bytes: Uint8Array, at: number): number {
  return bytes[at]! | (bytes[at + 1]! << 8);
}

function int16At(bytes: Uint8Array, at: number): number {
  return (uint16At(bytes, at) << 16) >> 16;
}

function uint32At(bytes: Uint8Array, at: number): number {
  return uint16At(bytes, at) + 0x10000 * uint16At(bytes, at + 2);
}

function int16Values(bytes: Uint8Array, from: number, to: number): Int16Array {
  const values = new Int16Array((to - from) / 2);
  for (let i = 0, at = from; at < to; i++, at += 2) values[i] = int16At(bytes, at);
  return values;
}

function bytesOf(count: number, hasMagnetometer: boolean): number {
  const magnetometerBytes = hasMagnetometer ? MAGNETOMETER_BYTES : 0;
  return HEADER_BYTES + count * SAMPLE_BYTES + magnetometerBytes + CRC_BYTES;
}

/** Samples lie at least one tick apart, and a single sample spans nothing. */
function spanFits(count: number, spanTicks: number): boolean {
  return count === 1 ? spanTicks === 0 : spanTicks >= count - 1 && spanTicks <= MAX_SPAN_TICKS;
}

function requireUnsigned(name: string, value: number, max: number): void {
  if (!Number.isInteger(value) || value < 0 || value > max) {
    throw new RangeError(`${name} must be a whole number from 0 to ${max}, got ${value}`);
  }
}
