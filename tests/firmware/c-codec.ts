import type { SensorInfo } from '../../src/core/packets/sensor-info.ts';
import type { StreamPacket } from '../../src/core/packets/stream-packet.ts';

/** What firmware-protocol/c/host.c takes and gives for packets, info and control. */

const STATUSES = [
  'ok',
  'unknown-operation',
  'bad-length',
  'bad-value',
  'mtu-too-small',
  'wrong-state',
  'gone',
  'hardware-fault',
];
const OPS = ['', 'start', 'stop', 'configure', 'identify', 'ping', 'resend'];

/** What a C decoder said: fields of the names in vectors.json, or a fault. */
export type CResult =
  | { readonly ok: true; readonly fields: object }
  | { readonly ok: false; readonly fault: string };

export function packetCommand(packet: StreamPacket): string {
  const { clipped, dropped, resent, magnetometer, sequence, firstTick, spanTicks } = packet;
  const flags = [clipped, dropped, resent, magnetometer !== null].map(Number);
  const count = packet.samples.length / 6;
  const numbers = [...flags, sequence, firstTick, spanTicks, count];
  const values = [...(magnetometer ?? [0, 0, 0]), ...packet.samples];
  return `encode-packet ${[...numbers, ...values].join(' ')}`;
}

export function readPacket(line: string): CResult {
  const [fault, ...words] = line.split(' ');
  if (fault !== 'sound') return { ok: false, fault: fault! };
  const numbers = words.map(Number);
  const [clipped, dropped, resent, hasMagnetometer, sequence, firstTick, spanTicks, count] =
    numbers;
  const samples = numbers.slice(11);
  if (samples.length !== 6 * count!) throw new Error(`${count} samples, but ${samples.length}`);
  const fields = {
    clipped: clipped === 1,
    dropped: dropped === 1,
    resent: resent === 1,
    sequence,
    firstTick,
    spanTicks,
    samples,
    magnetometer: hasMagnetometer === 1 ? numbers.slice(8, 11) : null,
  };
  return { ok: true, fields };
}

export function infoCommand(info: SensorInfo): string {
  const rates = Array.from({ length: 8 }, (_, i) => info.supportedRatesHz[i] ?? 0);
  const scales = [info.gyroScaleRadS, info.accelScaleMS2, info.magnetometerScaleT ?? 0];
  const words = [
    info.serial,
    ...info.firmwareVersion.split('.'),
    info.supportedRatesHz.length,
    info.tickHz,
    info.rateHz,
    ...rates,
    info.gyroRangeDegS,
    info.accelRangeG,
    info.resendPackets,
    ...scales.map(bitsOf),
  ];
  return `encode-info ${words.join(' ')}`;
}

export function readInfo(line: string): CResult {
  const [fault, serial, ...words] = line.split(' ');
  if (fault !== 'sound') return { ok: false, fault: fault! };
  const numbers = words.map(Number);
  const magnetometerScaleT = floatOf(words[19]!);
  const fields = {
    protocolVersion: 1,
    serial,
    firmwareVersion: words.slice(0, 3).join('.'),
    tickHz: numbers[4],
    rateHz: numbers[5],
    supportedRatesHz: numbers.slice(6, 6 + numbers[3]!),
    gyroRangeDegS: numbers[14],
    accelRangeG: numbers[15],
    gyroScaleRadS: floatOf(words[17]!),
    accelScaleMS2: floatOf(words[18]!),
    resendPackets: numbers[16],
    magnetometerScaleT: magnetometerScaleT === 0 ? null : magnetometerScaleT,
  };
  return { ok: true, fields };
}

/** A refused request carries the answer's status as its fault. */
export function readRequest(line: string): CResult {
  const [status, ...words] = line.split(' ');
  if (status !== 'ok') return { ok: false, fault: status! };
  const [opcode, tag, rateHz, gyroRangeDegS, accelRangeG, seconds, firstSequence, count] =
    words.map(Number);
  const op = OPS[opcode!];
  if (op === 'configure') {
    return { ok: true, fields: { op, tag, rateHz, gyroRangeDegS, accelRangeG } };
  }
  if (op === 'identify') return { ok: true, fields: { op, tag, seconds } };
  if (op === 'resend') return { ok: true, fields: { op, tag, firstSequence, count } };
  return { ok: true, fields: { op, tag } };
}

/** The command that has C encode the fields of an answer, named as in vectors.json. */
export function replyCommand(fields: Record<string, unknown>): string {
  const opcode = OPS.indexOf(String(fields.op));
  const sequence = fields.nextSequence ?? fields.firstSequence ?? 0;
  const status = STATUSES.indexOf(String(fields.status));
  const numbers = [opcode, fields.tag, status, sequence, fields.count ?? 0, fields.tick ?? 0];
  return `encode-reply ${numbers.join(' ')}`;
}

function bitsOf(value: number): string {
  const buffer = Buffer.alloc(4);
  buffer.writeFloatBE(value);
  return buffer.toString('hex');
}

function floatOf(bits: string): number {
  return Buffer.from(bits, 'hex').readFloatBE();
}
