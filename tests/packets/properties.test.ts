import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { crc16 } from '../../src/core/packets/crc16.ts';
import {
  decodeSensorInfo,
  encodeSensorInfo,
  type SensorInfo,
} from '../../src/core/packets/sensor-info.ts';
import {
  decodeStreamPacket,
  encodeStreamPacket,
  MAX_STREAM_SAMPLES,
  type StreamPacket,
} from '../../src/core/packets/stream-packet.ts';

const packets: fc.Arbitrary<StreamPacket> = fc
  .integer({ min: 1, max: MAX_STREAM_SAMPLES })
  .chain((count) =>
    fc.record({
      clipped: fc.boolean(),
      dropped: fc.boolean(),
      resent: fc.boolean(),
      sequence: fc.integer({ min: 0, max: 0xffff }),
      firstTick: fc.integer({ min: 0, max: 0xffffffff }),
      spanTicks: count === 1 ? fc.constant(0) : fc.integer({ min: count - 1, max: 0x7fffffff }),
      samples: fc.int16Array({ minLength: count * 6, maxLength: count * 6 }),
      magnetometer: fc.option(fc.int16Array({ minLength: 3, maxLength: 3 })),
    }),
  );

const scale = fc.float({ min: Math.fround(1e-9), max: 1000, noNaN: true });

const infos: fc.Arbitrary<SensorInfo> = fc
  .uniqueArray(fc.integer({ min: 1, max: 0xffff }), { minLength: 1, maxLength: 8 })
  .chain((rates) => {
    const supportedRatesHz = rates.sort((a, b) => a - b);
    const byte = fc.integer({ min: 0, max: 255 });
    return fc.record({
      protocolVersion: fc.constant(1),
      serial: fc
        .uint8Array({ minLength: 8, maxLength: 8 })
        .map((bytes) => Buffer.from(bytes).toString('hex')),
      firmwareVersion: fc.tuple(byte, byte, byte).map((parts) => parts.join('.')),
      tickHz: fc.integer({ min: 1000, max: 1_000_000 }),
      rateHz: fc.constantFrom(...supportedRatesHz),
      supportedRatesHz: fc.constant(supportedRatesHz),
      gyroRangeDegS: fc.integer({ min: 1, max: 0xffff }),
      accelRangeG: fc.integer({ min: 1, max: 0xffff }),
      gyroScaleRadS: scale,
      accelScaleMS2: scale,
      resendPackets: fc.integer({ min: 0, max: 0xffff }),
      magnetometerScaleT: fc.option(scale),
    });
  });

describe('decodeStreamPacket', () => {
  it('returns what encodeStreamPacket was given', () => {
    fc.assert(
      fc.property(packets, (packet) => {
        expect(decodeStreamPacket(encodeStreamPacket(packet))).toEqual({ ok: true, packet });
      }),
    );
  });

  it('never throws on arbitrary bytes', () => {
    fc.assert(
      fc.property(fc.uint8Array({ maxLength: 600 }), (bytes) => {
        expect(typeof decodeStreamPacket(bytes).ok).toBe('boolean');
      }),
    );
  });

  it('never throws on arbitrary bytes behind a sound version and checksum', () => {
    fc.assert(
      fc.property(fc.uint8Array({ minLength: 26, maxLength: 494 }), (body) => {
        body[0] = 1;
        body[12] = Math.round((body.length - 14) / 12);
        const bytes = new Uint8Array([...body, crc16(body) & 255, crc16(body) >> 8]);
        expect(typeof decodeStreamPacket(bytes).ok).toBe('boolean');
      }),
    );
  });

  it('refuses every packet with one bit flipped', () => {
    // A CRC-16 finds every single-bit error (Peterson & Brown 1961).
    fc.assert(
      fc.property(packets, fc.nat(), (packet, position) => {
        const bytes = encodeStreamPacket(packet);
        const bit = position % (bytes.length * 8);
        bytes[bit >> 3] = bytes[bit >> 3]! ^ (1 << (bit & 7));
        expect(decodeStreamPacket(bytes).ok).toBe(false);
      }),
    );
  });
});

describe('encodeStreamPacket', () => {
  const sound: StreamPacket = {
    clipped: false,
    dropped: false,
    resent: false,
    sequence: 0,
    firstTick: 0,
    spanTicks: 0,
    samples: new Int16Array(6),
    magnetometer: null,
  };

  it.each([
    ['no samples', { samples: new Int16Array(0) }],
    ['half a sample', { samples: new Int16Array(9) }],
    ['41 samples', { samples: new Int16Array(246), spanTicks: 100 }],
    ['a sequence above 65535', { sequence: 65536 }],
    ['a fractional tick', { firstTick: 0.5 }],
    ['a negative tick', { firstTick: -1 }],
    ['two axes of a magnetometer', { magnetometer: new Int16Array(2) }],
    ['one sample that spans time', { spanTicks: 5 }],
  ])('throws on %s', (_, change) => {
    expect(() => encodeStreamPacket({ ...sound, ...change })).toThrow(RangeError);
  });
});

describe('decodeSensorInfo', () => {
  it('returns what encodeSensorInfo was given', () => {
    fc.assert(
      fc.property(infos, (info) => {
        expect(decodeSensorInfo(encodeSensorInfo(info))).toEqual({ ok: true, info });
      }),
    );
  });

  it('never throws on arbitrary bytes', () => {
    fc.assert(
      fc.property(fc.uint8Array({ minLength: 0, maxLength: 80 }), (bytes) => {
        expect(typeof decodeSensorInfo(bytes).ok).toBe('boolean');
      }),
    );
  });

  it('never throws on arbitrary fields behind a sound frame', () => {
    fc.assert(
      fc.property(fc.uint8Array({ minLength: 54, maxLength: 54 }), (body) => {
        body[0] = 1;
        const bytes = new Uint8Array([...body, crc16(body) & 255, crc16(body) >> 8]);
        expect(typeof decodeSensorInfo(bytes).ok).toBe('boolean');
      }),
    );
  });
});

describe('encodeSensorInfo', () => {
  const sound: SensorInfo = {
    protocolVersion: 1,
    serial: '00a1b2c3d4e5f607',
    firmwareVersion: '1.0.0',
    tickHz: 1_000_000,
    rateHz: 200,
    supportedRatesHz: [100, 200],
    gyroRangeDegS: 2000,
    accelRangeG: 16,
    gyroScaleRadS: 0.001,
    accelScaleMS2: 0.005,
    resendPackets: 0,
    magnetometerScaleT: null,
  };

  it.each([
    ['a short serial', { serial: '00a1' }],
    ['a firmware version above 255', { firmwareVersion: '1.0.256' }],
    ['a firmware version of two parts', { firmwareVersion: '1.0' }],
    ['nine rates', { supportedRatesHz: [1, 2, 3, 4, 5, 6, 7, 8, 200] }],
    ['a rate that is not supported', { rateHz: 400 }],
    ['a range that wraps', { gyroRangeDegS: 70000 }],
    ['a scale of zero', { gyroScaleRadS: 0 }],
    ['a tick rate out of bounds', { tickHz: 10 }],
  ])('throws on %s', (_, change) => {
    expect(() => encodeSensorInfo({ ...sound, ...change })).toThrow(RangeError);
  });
});
