import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { decodeSensorInfo, encodeSensorInfo } from '../../src/core/packets/sensor-info.ts';
import { decodeStreamPacket, encodeStreamPacket } from '../../src/core/packets/stream-packet.ts';
import { CONTROL_UUID, INFO_UUID, SERVICE_UUID, STREAM_UUID } from '../../src/devices/profile.ts';

interface Vector {
  readonly id: string;
  readonly kind: 'stream' | 'info';
  readonly comment: string;
  readonly bytesHex: string;
  readonly valid: boolean;
  readonly fault?: string;
  readonly fields?: Record<string, unknown>;
}

// Made by firmware-protocol/make_vectors.py with Python's struct and binascii.crc_hqx.
const file = new URL('../../firmware-protocol/vectors.json', import.meta.url);
const { vectors } = JSON.parse(readFileSync(file, 'utf8')) as { vectors: Vector[] };

/** The bytes at an odd offset in a larger buffer, as a notification may arrive. */
function unaligned(hex: string): Uint8Array {
  const bytes = Buffer.from(hex, 'hex');
  const buffer = new Uint8Array(bytes.length + 8).fill(0xa5);
  buffer.set(bytes, 3);
  return buffer.subarray(3, 3 + bytes.length);
}

function decode(vector: Vector): { ok: boolean; fields?: object; code?: string; message?: string } {
  const bytes = unaligned(vector.bytesHex);
  if (vector.kind === 'info') {
    const result = decodeSensorInfo(bytes);
    return result.ok ? { ok: true, fields: result.info } : { ok: false, ...result.fault };
  }
  const result = decodeStreamPacket(bytes);
  return result.ok
    ? { ok: true, fields: { ...result.packet, samples: Array.from(result.packet.samples) } }
    : { ok: false, ...result.fault };
}

describe('golden vectors', () => {
  it('have names of their own and are mostly invalid', () => {
    expect(new Set(vectors.map((vector) => vector.id)).size).toBe(vectors.length);
    expect(vectors.filter((vector) => !vector.valid).length).toBeGreaterThan(vectors.length / 2);
  });

  it.each(vectors.filter((vector) => vector.valid))('$id decodes: $comment', (vector) => {
    expect(decode(vector)).toEqual({ ok: true, fields: vector.fields });
  });

  it.each(vectors.filter((vector) => !vector.valid))('$id is refused as $fault', (vector) => {
    const result = decode(vector);
    expect(result.code).toBe(vector.fault);
    expect(result.message).toMatch(/^[A-Z].*\.$/);
  });

  it.each(vectors.filter((vector) => vector.valid))('$id encodes to the same bytes', (vector) => {
    const bytes = Buffer.from(vector.bytesHex, 'hex');
    if (vector.kind === 'info') {
      const result = decodeSensorInfo(bytes);
      if (!result.ok) throw new Error(result.fault.message);
      expect(Buffer.from(encodeSensorInfo(result.info)).toString('hex')).toBe(vector.bytesHex);
    } else {
      const result = decodeStreamPacket(bytes);
      if (!result.ok) throw new Error(result.fault.message);
      expect(Buffer.from(encodeStreamPacket(result.packet)).toString('hex')).toBe(vector.bytesHex);
    }
  });
});

it('SPEC.md names the UUIDs of the profile', () => {
  const spec = readFileSync(new URL('../../firmware-protocol/SPEC.md', import.meta.url), 'utf8');
  for (const uuid of [SERVICE_UUID, STREAM_UUID, CONTROL_UUID, INFO_UUID]) {
    expect(spec).toContain(uuid);
    // Version 4, variant 1: RFC 9562 section 5.4.
    expect(uuid).toMatch(/^[0-9a-f]{8}-[0-9a-f]{4}-4[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}$/);
  }
});
