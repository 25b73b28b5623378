import type { ControlOp, ControlReply, ControlRequest, ControlStatus } from './control.ts';
import { type PacketFault, refuse } from './packet-fault.ts';

const OPCODES = { start: 1, stop: 2, configure: 3, identify: 4, ping: 5, resend: 6 } as const;
/** Answers carry the opcode with this bit set. */
const ANSWER = 0x80;

const STATUSES: readonly ControlStatus[] = [
  'ok',
  'unknown-operation',
  'bad-length',
  'bad-value',
  'mtu-too-small',
  'wrong-state',
  'gone',
  'hardware-fault',
];

/** A run of half of all sequences could meet a ring twice. */
const MOST_RESENT = 0x7fff;

/** Lengths of requests, and of answers with status ok, by opcode. */
const REQUEST_BYTES = [0, 2, 2, 8, 3, 2, 6];
const OK_BYTES = [0, 9, 3, 3, 3, 7, 7];

function opOf(opcode: number): ControlOp | null {
  for (const [op, code] of Object.entries(OPCODES)) if (code === opcode) return op as ControlOp;
  return null;
}

/**
 * Bytes of a control request.
 * @param tag 0..255, echoed by the answer
 * @returns little-endian, owning its buffer
 * @throws RangeError when a field does not fit its place
 * Source: firmware-protocol/SPEC.md, "Control".  Checked: firmware-protocol/vectors.json
 */
export function encodeControlRequest(request: ControlRequest, tag: number): Uint8Array {
  const opcode = OPCODES[request.op];
  const bytes = new Uint8Array(REQUEST_BYTES[opcode]!);
  const view = new DataView(bytes.buffer);
  bytes[0] = opcode;
  bytes[1] = fits('tag', tag, 0xff);
  if (request.op === 'configure') {
    view.setUint16(2, fits('rateHz', request.rateHz, 0xffff), true);
    view.setUint16(4, fits('gyroRangeDegS', request.gyroRangeDegS, 0xffff), true);
    view.setUint16(6, fits('accelRangeG', request.accelRangeG, 0xffff), true);
  } else if (request.op === 'identify') {
    bytes[2] = fits('seconds', request.seconds, 0xff);
  } else if (request.op === 'resend') {
    view.setUint16(2, fits('firstSequence', request.firstSequence, 0xffff), true);
    view.setUint16(4, fits('count', request.count, MOST_RESENT), true);
  }
  return bytes;
}

function fits(name: string, value: number, most: number): number {
  if (!Number.isInteger(value) || value < 0 || value > most) {
    throw new RangeError(`${name} must be a whole number from 0 to ${most}, got ${value}`);
  }
  return value;
}

/** A request, or what the sensor answers to bytes that are none. */
export type ControlRequestResult =
  | { readonly ok: true; readonly request: ControlRequest; readonly tag: number }
  | {
      readonly ok: false;
      readonly opcode: number;
      readonly tag: number;
      readonly status: ControlStatus;
    };

/** Reads a request as a sensor does. Never throws and never reads outside `bytes`. */
export function decodeControlRequest(bytes: Uint8Array): ControlRequestResult {
  const opcode = bytes[0] ?? 0;
  const tag = bytes[1] ?? 0;
  const no = (status: ControlStatus) => ({ ok: false, opcode, tag, status }) as const;
  const op = opOf(opcode);
  if (op === null) return no('unknown-operation');
  if (bytes.length !== REQUEST_BYTES[opcode]) return no('bad-length');
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  switch (op) {
    case 'configure': {
      const [rateHz, gyroRangeDegS, accelRangeG] = [2, 4, 6].map((at) => view.getUint16(at, true));
      const request = {
        op,
        rateHz: rateHz!,
        gyroRangeDegS: gyroRangeDegS!,
        accelRangeG: accelRangeG!,
      };
      return { ok: true, request, tag };
    }
    case 'identify':
      return { ok: true, request: { op, seconds: bytes[2]! }, tag };
    case 'resend': {
      const count = view.getUint16(4, true);
      if (count === 0 || count > MOST_RESENT) return no('bad-value');
      return { ok: true, request: { op, firstSequence: view.getUint16(2, true), count }, tag };
    }
    default:
      return { ok: true, request: { op }, tag };
  }
}

/**
 * Bytes of an answer.
 * @throws RangeError when a field does not fit its place
 * Source: firmware-protocol/SPEC.md, "Control".
 */
export function encodeControlReply(reply: ControlReply, tag: number): Uint8Array {
  const opcode = OPCODES[reply.op];
  if (reply.status !== 'ok') return encodeRefusal(opcode, tag, reply.status);
  const bytes = new Uint8Array(OK_BYTES[opcode]!);
  const view = new DataView(bytes.buffer);
  bytes[0] = opcode | ANSWER;
  bytes[1] = fits('tag', tag, 0xff);
  if (reply.op === 'start') {
    view.setUint16(3, fits('nextSequence', reply.nextSequence, 0xffff), true);
    view.setUint32(5, fits('tick', reply.tick, 0xffffffff), true);
  } else if (reply.op === 'ping') {
    view.setUint32(3, fits('tick', reply.tick, 0xffffffff), true);
  } else if (reply.op === 'resend') {
    view.setUint16(3, fits('firstSequence', reply.firstSequence, 0xffff), true);
    view.setUint16(5, fits('count', reply.count, 0xffff), true);
  }
  return bytes;
}

/** Bytes of a refusal, also for opcodes that mean nothing here. @param opcode as received */
export function encodeRefusal(opcode: number, tag: number, status: ControlStatus): Uint8Array {
  return Uint8Array.of(opcode | ANSWER, tag, STATUSES.indexOf(status));
}

/** An answer with its tag, or a named reason why it is none. */
export type ControlReplyResult =
  | { readonly ok: true; readonly reply: ControlReply; readonly tag: number }
  | { readonly ok: false; readonly fault: PacketFault };

/** Reads an answer. Never throws and never reads outside `bytes`. */
export function decodeControlReply(bytes: Uint8Array): ControlReplyResult {
  if (bytes.length < 3) {
    return refuse('too-short', `An answer of the sensor has ${bytes.length} bytes, fewer than 3.`);
  }
  const opcode = bytes[0]!;
  const op = opOf(opcode & ~ANSWER);
  const status = STATUSES[bytes[2]!];
  if (op === null || (opcode & ANSWER) === 0 || status === undefined) {
    const words = `The sensor answered with operation ${opcode} and status ${bytes[2]}, which mean nothing in version 1. Check its firmware.`;
    return refuse('unknown-answer', words);
  }
  const expected = status === 'ok' ? OK_BYTES[opcode & ~ANSWER]! : 3;
  if (bytes.length !== expected) {
    const words = `An answer of the sensor has ${bytes.length} bytes instead of ${expected}. Check its firmware.`;
    return refuse('length-mismatch', words);
  }
  return { ok: true, reply: readReply(op, status, bytes), tag: bytes[1]! };
}

function readReply(op: ControlOp, status: ControlStatus, bytes: Uint8Array): ControlReply {
  if (status !== 'ok') return { op, status };
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  switch (op) {
    case 'start':
      return { op, status, nextSequence: view.getUint16(3, true), tick: view.getUint32(5, true) };
    case 'ping':
      return { op, status, tick: view.getUint32(3, true) };
    case 'resend':
      return { op, status, firstSequence: view.getUint16(3, true), count: view.getUint16(5, true) };
    default:
      return { op, status };
  }
}
