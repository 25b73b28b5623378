import { crc16 } from '../../../src/core/packets/crc16.ts';
import type { SensorTraits } from './emulated-sensor.ts';

/** Fields of a packet's header: place and bytes, little-endian. SPEC.md, "Stream packet". */
const FIELDS = {
  version: [0, 1],
  sequence: [2, 2],
  tick: [4, 4],
  span: [8, 4],
  count: [12, 1],
} as const;
type Field = keyof typeof FIELDS;

/** A packet with another value in its header and the checksum right again: the firmware's fault, not the radio's. */
export function withField(bytes: Uint8Array, field: Field, value: number): Uint8Array {
  const copy = bytes.slice();
  const [at, size] = FIELDS[field];
  for (let i = 0; i < size; i++) copy[at + i] = Math.floor(value / 256 ** i) % 256;
  new DataView(copy.buffer).setUint16(copy.length - 2, crc16(copy.subarray(0, -2)), true);
  return copy;
}

function fieldOf(bytes: Uint8Array, field: Field): number {
  const [at, size] = FIELDS[field];
  let value = 0;
  for (let i = 0; i < size; i++) value += bytes[at + i]! * 256 ** i;
  return value;
}

/** Packets swapped in pairs, each sent twice. */
export function repeatedAndReordered(): SensorTraits {
  let held: Uint8Array | null = null;
  return {
    spoil: (bytes) => {
      if (held === null) {
        held = bytes;
        return [];
      }
      const pair = [bytes, held, bytes, held];
      held = null;
      return pair;
    },
  };
}

/** Ten packets in the time of one, counted and timed accordingly. */
export function tenTimesTheRate(): SensorTraits {
  let next = -1;
  return {
    spoil: (bytes) => {
      if (next < 0) next = fieldOf(bytes, 'sequence');
      const span = fieldOf(bytes, 'span');
      return Array.from({ length: 10 }, (_, i) => {
        const numbered = withField(bytes, 'sequence', next++);
        const tick = fieldOf(bytes, 'tick') + Math.round((i * span) / 9);
        return withField(withField(numbered, 'tick', tick), 'span', Math.round(span / 10));
      });
    },
  };
}

/** Damaged packets after so many good ones. */
export function badAfter(good: number): SensorTraits {
  let sent = 0;
  return { spoil: (bytes) => [sent++ < good ? bytes : bytes.with(20, bytes[20]! ^ 1)] };
}

/** A clock that turns back after so many packets. */
export function backwards(good: number): SensorTraits {
  let sent = 0;
  let turnedAt = 0;
  return {
    spoil: (bytes) => {
      const tick = fieldOf(bytes, 'tick');
      if (sent++ === good) turnedAt = tick;
      return [sent <= good ? bytes : withField(bytes, 'tick', 2 * turnedAt - tick)];
    },
  };
}
