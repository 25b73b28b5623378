import { readFileSync } from 'node:fs';
import { Ajv2020 } from 'ajv/dist/2020.js';
import { describe, expect, it } from 'vitest';
import {
  decodeControlReply,
  decodeControlRequest,
  encodeControlReply,
  encodeControlRequest,
} from '../../src/core/packets/control-codec.ts';
import { decodeSensorInfo, encodeSensorInfo } from '../../src/core/packets/sensor-info.ts';
import { decodeStreamPacket, encodeStreamPacket } from '../../src/core/packets/stream-packet.ts';
import { CONTROL_UUID, INFO_UUID, SERVICE_UUID, STREAM_UUID } from '../../src/devices/profile.ts';

interface Vector {
  readonly id: string;
  readonly kind: 'stream' | 'info' | 'request' | 'reply';
  readonly comment: string;
  readonly bytesHex: string;
  readonly valid: boolean;
  readonly fault?: string;
  readonly fields?: Record<string, unknown>;
}

// Made by firmware-protocol/make_vectors.py with Python's struct and binascii.crc_hqx.
function readJson(name: string): object {
  const file = new URL(`../../firmware-protocol/${name}`, import.meta.url);
  return JSON.parse(readFileSync(file, 'utf8'));
}
const vectorFile = readJson('vectors.json');
const { vectors } = vectorFile as { vectors: Vector[] };

/** The bytes at an odd offset in a larger buffer, as a notification may arrive. */
function unaligned(hex: string): Uint8Array {
  const bytes = Buffer.from(hex, 'hex');
  const buffer = new Uint8Array(bytes.length + 8).fill(0xa5);
  buffer.set(bytes, 3);
  return buffer.subarray(3, 3 + bytes.length);
}

interface Decoded {
  readonly ok: boolean;
  readonly fields?: object;
  readonly code?: string;
  readonly message?: string;
  /** The bytes that the fields encode to. */
  readonly again?: Uint8Array;
}

function decode(vector: Vector): Decoded {
  const bytes = unaligned(vector.bytesHex);
  switch (vector.kind) {
    case 'stream': {
      const result = decodeStreamPacket(bytes);
      if (!result.ok) return { ok: false, ...result.fault };
      const { samples, magnetometer } = result.packet;
      const lists = {
        samples: Array.from(samples),
        magnetometer: magnetometer && Array.from(magnetometer),
      };
      const again = encodeStreamPacket(result.packet);
      return { ok: true, fields: { ...result.packet, ...lists }, again };
    }
    case 'info': {
      const result = decodeSensorInfo(bytes);
      if (!result.ok) return { ok: false, ...result.fault };
      return { ok: true, fields: result.info, again: encodeSensorInfo(result.info) };
    }
    case 'request': {
      const result = decodeControlRequest(bytes);
      if (!result.ok) return { ok: false, code: result.status };
      const again = encodeControlRequest(result.request, result.tag);
      return { ok: true, fields: { ...result.request, tag: result.tag }, again };
    }
    case 'reply': {
      const result = decodeControlReply(bytes);
      if (!result.ok) return { ok: false, ...result.fault };
      const again = encodeControlReply(result.reply, result.tag);
      return { ok: true, fields: { ...result.reply, tag: result.tag }, again };
    }
  }
}

describe('golden vectors', () => {
  it('have names of their own and are mostly invalid', () => {
    expect(new Set(vectors.map((vector) => vector.id)).size).toBe(vectors.length);
    expect(vectors.filter((vector) => !vector.valid).length).toBeGreaterThan(vectors.length / 2);
  });

  it('are of the form that the schema says', () => {
    const validate = new Ajv2020({ strictTypes: false }).compile(readJson('vectors.schema.json'));
    validate(vectorFile);
    expect(validate.errors).toBeNull();
    const renamed = { ...vectorFile, vectors: [{ ...vectors[0], fields: { sequence: 0 } }] };
    expect(validate(renamed)).toBe(false);
  });

  const valid = vectors.filter((vector) => vector.valid);
  it.each(valid)('$kind $id decodes and encodes to the same bytes: $comment', (vector) => {
    const { ok, fields, again } = decode(vector);
    expect({ ok, fields }).toEqual({ ok: true, fields: vector.fields });
    expect(Buffer.from(again!).toString('hex')).toBe(vector.bytesHex);
  });

  const invalid = vectors.filter((vector) => !vector.valid);
  it.each(invalid)('$kind $id is refused as $fault', (vector) => {
    const result = decode(vector);
    expect(result.code).toBe(vector.fault);
    if (vector.kind !== 'request') expect(result.message).toMatch(/^[A-Z].*\.$/);
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
