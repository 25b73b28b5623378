import { readFileSync } from 'node:fs';
import { isDeepStrictEqual } from 'node:util';
import { expect, it } from 'vitest';
import { type Random, seededRandom } from '../../src/core/maths/random.ts';
import type { ControlReply } from '../../src/core/packets/control.ts';
import { decodeControlRequest, encodeControlReply } from '../../src/core/packets/control-codec.ts';
import { crc16 } from '../../src/core/packets/crc16.ts';
import {
  decodeSensorInfo,
  encodeSensorInfo,
  type SensorInfo,
} from '../../src/core/packets/sensor-info.ts';
import {
  decodeStreamPacket,
  encodeStreamPacket,
  type StreamPacket,
} from '../../src/core/packets/stream-packet.ts';
import {
  type CResult,
  infoCommand,
  packetCommand,
  readInfo,
  readPacket,
  readRequest,
  replyCommand,
} from './c-codec.ts';
import { type CHost, describeWithC, toHex } from './c-host.ts';

interface Vector {
  readonly id: string;
  readonly kind: 'stream' | 'info' | 'request' | 'reply';
  readonly bytesHex: string;
  readonly valid: boolean;
  readonly fault?: string;
  readonly fields?: Record<string, unknown>;
}

const vectorsFile = new URL('../../firmware-protocol/vectors.json', import.meta.url);
const { vectors } = JSON.parse(readFileSync(vectorsFile, 'utf8')) as { vectors: Vector[] };
const DECODERS = {
  stream: { command: 'packet', read: readPacket },
  info: { command: 'info', read: readInfo },
  request: { command: 'request', read: readRequest },
};

const pick = <T>(random: Random, from: readonly T[]): T =>
  from[Math.floor(random.uniform(0, from.length))]!;
const whole = (random: Random, low: number, high: number) =>
  Math.floor(random.uniform(low, high + 1));
/** Every fourth an edge. */
const edgy = (random: Random, low: number, high: number) =>
  random.uniform(0, 1) < 0.25
    ? pick(random, [low, low + 1, high - 1, high])
    : whole(random, low, high);

/** Values that packets take a stretch of: quicker than drawing each. */
const VALUES = valueTable(seededRandom(20_260));

function valueTable(random: Random): Int16Array {
  return Int16Array.from({ length: 0x10000 }, () => edgy(random, -32768, 32767));
}

function randomPacket(random: Random, count: number): StreamPacket {
  const values = (n: number) => {
    const from = whole(random, 0, VALUES.length - n);
    return VALUES.slice(from, from + n);
  };
  const flag = () => random.uniform(0, 1) < 0.5;
  return {
    clipped: flag(),
    dropped: flag(),
    resent: flag(),
    sequence: edgy(random, 0, 0xffff),
    firstTick: edgy(random, 0, 0xffffffff),
    spanTicks: count === 1 ? 0 : edgy(random, count - 1, 0x7fffffff),
    samples: values(6 * count),
    magnetometer: flag() ? values(3) : null,
  };
}

function randomInfo(random: Random): SensorInfo {
  const rates = new Set(Array.from({ length: whole(random, 1, 8) }, () => edgy(random, 1, 0xffff)));
  const supportedRatesHz = [...rates].sort((a, b) => a - b);
  // Powers of two from the smallest to nearly the largest float32, and smaller ones still.
  const scale = () => Math.fround(random.uniform(1, 2) * 2 ** whole(random, -148, 126));
  const byte = () => edgy(random, 0, 255);
  return {
    protocolVersion: 1,
    serial: Buffer.from(Array.from({ length: 8 }, byte)).toString('hex'),
    firmwareVersion: [byte(), byte(), byte()].join('.'),
    tickHz: edgy(random, 1000, 1_000_000),
    rateHz: pick(random, supportedRatesHz),
    supportedRatesHz,
    gyroRangeDegS: edgy(random, 1, 0xffff),
    accelRangeG: edgy(random, 1, 0xffff),
    gyroScaleRadS: scale(),
    accelScaleMS2: scale(),
    resendPackets: edgy(random, 0, 0xffff),
    magnetometerScaleT: random.uniform(0, 1) < 0.5 ? scale() : null,
  };
}

function randomReply(random: Random): ControlReply {
  const op = pick(random, ['start', 'stop', 'configure', 'identify', 'ping', 'resend'] as const);
  const sequence = edgy(random, 0, 0xffff);
  const tick = edgy(random, 0, 0xffffffff);
  if (random.uniform(0, 1) < 0.4) {
    const statuses = ['bad-value', 'mtu-too-small', 'wrong-state', 'gone'] as const;
    return { op, status: pick(random, statuses) };
  }
  if (op === 'start') return { op, status: 'ok', nextSequence: sequence, tick };
  if (op === 'ping') return { op, status: 'ok', tick };
  if (op === 'resend') {
    return { op, status: 'ok', firstSequence: sequence, count: edgy(random, 1, 0x7fff) };
  }
  return { op, status: 'ok' };
}

const randomBytes = (random: Random, length: number) =>
  Uint8Array.from({ length }, () => whole(random, 0, 255));

/** The bytes with a fitting checksum at their end. */
function seal(bytes: Uint8Array): Uint8Array {
  const body = bytes.subarray(0, -2);
  return Uint8Array.of(...body, crc16(body) & 0xff, crc16(body) >> 8);
}

/** Bytes from far off to nearly a packet: noise, a sound frame round noise, a sound packet changed. */
function packetLike(random: Random): Uint8Array {
  const noise = randomBytes(random, whole(random, 0, 520));
  const kind = random.uniform(0, 1);
  if (kind < 0.3 || noise.length < 16) return noise;
  noise[0] = 1;
  if (kind < 0.5) return noise;
  const bytes = encodeStreamPacket(randomPacket(random, whole(random, 1, 40)));
  const at = pick(random, [0, 1, 8, 9, 10, 11, 12, 13, whole(random, 0, bytes.length - 1)]);
  bytes[at] = whole(random, 0, 255);
  if (kind < 0.6) return bytes.subarray(0, whole(random, 0, bytes.length));
  return kind < 0.7 ? bytes : seal(bytes);
}

function infoLike(random: Random): Uint8Array {
  const kind = random.uniform(0, 1);
  if (kind < 0.2) return randomBytes(random, whole(random, 0, 70));
  const bytes = encodeSensorInfo(randomInfo(random));
  const at = whole(random, 0, bytes.length - 1);
  // Also the signs and exponents of the scales: infinite, not a number, minus zero.
  if (kind < 0.4)
    bytes.set([0x00, 0x00, 0x80, pick(random, [0x7f, 0xff])], pick(random, [40, 44, 50]));
  else if (kind < 0.5) bytes.set([0, 0, 0, 0x80], pick(random, [40, 44, 50]));
  else bytes[at] = pick(random, [0, 1, 255, whole(random, 0, 255)]);
  return kind < 0.9 ? seal(bytes) : bytes;
}

function requestLike(random: Random): Uint8Array {
  const bytes = randomBytes(random, whole(random, 0, 20));
  if (random.uniform(0, 1) < 0.2) return bytes;
  const opcode = whole(random, 0, 7);
  const lengths = [2, 2, 2, 8, 3, 2, 6, 2];
  const request = randomBytes(random, lengths[opcode]! + (random.uniform(0, 1) < 0.2 ? 1 : 0));
  request[0] = opcode;
  return request;
}

function packetByProgram(bytes: Uint8Array): CResult {
  const result = decodeStreamPacket(bytes);
  if (!result.ok) return { ok: false, fault: result.fault.code };
  const { samples, magnetometer } = result.packet;
  const lists = {
    samples: Array.from(samples),
    magnetometer: magnetometer && Array.from(magnetometer),
  };
  return { ok: true, fields: { ...result.packet, ...lists } };
}

function infoByProgram(bytes: Uint8Array): CResult {
  const result = decodeSensorInfo(bytes);
  return result.ok ? { ok: true, fields: result.info } : { ok: false, fault: result.fault.code };
}

function requestByProgram(bytes: Uint8Array): CResult {
  const result = decodeControlRequest(bytes);
  return result.ok
    ? { ok: true, fields: { ...result.request, tag: result.tag } }
    : { ok: false, fault: result.status };
}

/** Bytes and what the program makes of them. */
interface Judged {
  readonly bytes: Uint8Array;
  readonly expected: CResult;
}

function judged(
  seed: number,
  make: (random: Random) => Uint8Array,
  byProgram: (bytes: Uint8Array) => CResult,
): Judged[] {
  const random = seededRandom(seed);
  return Array.from({ length: 3000 }, () => {
    const bytes = make(random);
    return { bytes, expected: byProgram(bytes) };
  });
}

const nameOf = (result: CResult) => (result.ok ? 'sound' : result.fault);

/** What C judges otherwise than the program. */
function differences(host: CHost, kind: keyof typeof DECODERS, inputs: readonly Judged[]) {
  const { command, read } = DECODERS[kind];
  const lines = host.run(inputs.map(({ bytes }) => `${command} ${toHex(bytes)}`));
  return inputs
    .map(({ bytes, expected }, i) => ({ bytes: toHex(bytes), expected, found: read(lines[i]!) }))
    .filter(({ expected, found }) => !isDeepStrictEqual(found, expected));
}

interface Encoded {
  readonly command: string;
  readonly hex: string;
}

/** What C encodes otherwise than the program. */
function misencoded(host: CHost, inputs: readonly Encoded[]) {
  const lines = host.run(inputs.map(({ command }) => command));
  return inputs
    .map((input, i) => ({ ...input, found: lines[i] }))
    .filter(({ hex, found }) => found !== hex);
}

// Made once for both builds of the C side.
function encodedPackets(): Encoded[] {
  const random = seededRandom(20_261);
  return Array.from({ length: 12_000 }, (_, i) => {
    const packet = randomPacket(random, 1 + (i % 40));
    return { command: packetCommand(packet), hex: toHex(encodeStreamPacket(packet)) };
  });
}

function encodedInfos(): Encoded[] {
  const random = seededRandom(20_262);
  return Array.from({ length: 1000 }, () => {
    const info = randomInfo(random);
    return { command: infoCommand(info), hex: toHex(encodeSensorInfo(info)) };
  });
}

function encodedReplies(): Encoded[] {
  const random = seededRandom(20_263);
  return Array.from({ length: 1000 }, () => {
    const reply = randomReply(random);
    const tag = whole(random, 0, 255);
    const command = replyCommand({ ...reply, tag });
    return { command, hex: toHex(encodeControlReply(reply, tag)) };
  });
}

const packets = encodedPackets();
const infos = encodedInfos();
const replies = encodedReplies();
const arbitrary = {
  stream: judged(20_264, packetLike, packetByProgram),
  info: judged(20_265, infoLike, infoByProgram),
  request: judged(20_266, requestLike, requestByProgram),
};

describeWithC('the C codec', (host) => {
  it('reads every valid vector field by field and names the fault of every other', () => {
    const sensorSide = vectors.flatMap((vector) =>
      vector.kind === 'reply' ? [] : [{ ...vector, kind: vector.kind }],
    );
    expect(sensorSide.length).toBeGreaterThan(50);
    const lines = host.run(
      sensorSide.map(({ kind, bytesHex }) => `${DECODERS[kind].command} ${bytesHex || '-'}`),
    );
    sensorSide.forEach(({ id, kind, valid, fault, fields }, i) => {
      const expected = valid ? { ok: true, fields } : { ok: false, fault };
      expect(DECODERS[kind].read(lines[i]!), id).toEqual(expected);
    });
  });

  it('encodes the fields of every valid vector to its bytes', () => {
    const valid = vectors.filter((vector) => vector.valid && vector.kind !== 'request');
    const commands = valid.map(({ kind, fields }) => {
      if (kind === 'stream') return packetCommand(fields as unknown as StreamPacket);
      return kind === 'info' ? infoCommand(fields as unknown as SensorInfo) : replyCommand(fields!);
    });
    expect(host.run(commands)).toEqual(valid.map(({ bytesHex }) => bytesHex));
  });

  it('encodes 12 000 random packets to the same bytes as the program', () => {
    expect(misencoded(host, packets)).toEqual([]);
  });

  it('encodes 1 000 random informations to the same bytes as the program', () => {
    expect(misencoded(host, infos)).toEqual([]);
  });

  it('encodes 1 000 random answers to the same bytes as the program', () => {
    expect(misencoded(host, replies)).toEqual([]);
  });

  it.each(['stream', 'info', 'request'] as const)(
    'gives the same verdict as the program on 3 000 arbitrary bytes of %s',
    (kind) => {
      expect(differences(host, kind, arbitrary[kind])).toEqual([]);
    },
  );

  it('meets every verdict among the arbitrary bytes', () => {
    const verdicts = (kind: keyof typeof arbitrary) =>
      new Set(arbitrary[kind].map(({ expected }) => nameOf(expected))).size;
    // Sound, and the faults that SPEC.md lists for each.
    expect([verdicts('stream'), verdicts('info'), verdicts('request')]).toEqual([8, 10, 4]);
  });

  it('refuses to encode what no packet and no information may be', () => {
    const sound = randomPacket(seededRandom(1), 2);
    const badPackets = [
      { ...sound, samples: new Int16Array(0) },
      { ...sound, samples: new Int16Array(6 * 41), spanTicks: 100 },
      { ...sound, spanTicks: 0 },
      { ...sound, spanTicks: 0x80000000 },
      { ...sound, samples: new Int16Array(6), spanTicks: 1 },
    ];
    const info = randomInfo(seededRandom(1));
    const badInfos = [
      { ...info, accelRangeG: 0 },
      { ...info, tickHz: 999 },
      { ...info, rateHz: 0 },
      { ...info, gyroScaleRadS: Number.NaN },
    ];
    const commands = [...badPackets.map(packetCommand), ...badInfos.map(infoCommand)];
    expect(host.run(commands)).toEqual(commands.map(() => 'refused'));
  });
});
