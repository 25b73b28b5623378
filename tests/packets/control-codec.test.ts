import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { ControlReply, ControlRequest } from '../../src/core/packets/control.ts';
import {
  decodeControlReply,
  decodeControlRequest,
  encodeControlReply,
  encodeControlRequest,
} from '../../src/core/packets/control-codec.ts';

const hex = (bytes: Uint8Array) => Buffer.from(bytes).toString('hex');
const bytes = (text: string) => new Uint8Array(Buffer.from(text, 'hex'));

// Bytes written by hand from the tables of firmware-protocol/SPEC.md, "Control"; little-endian.
const REQUESTS: readonly [ControlRequest, string][] = [
  [{ op: 'start' }, '0107'],
  [{ op: 'stop' }, '0207'],
  [{ op: 'configure', rateHz: 400, gyroRangeDegS: 2000, accelRangeG: 16 }, '03079001d0071000'],
  [{ op: 'identify', seconds: 5 }, '040705'],
  [{ op: 'ping' }, '0507'],
  [{ op: 'resend', firstSequence: 0xfffe, count: 3 }, '0607feff0300'],
];
const REPLIES: readonly [ControlReply, string][] = [
  [{ op: 'start', status: 'ok', nextSequence: 258, tick: 0x89abcdef }, '8107000201efcdab89'],
  [{ op: 'stop', status: 'ok' }, '820700'],
  [{ op: 'ping', status: 'ok', tick: 1 }, '85070001000000'],
  [{ op: 'resend', status: 'ok', firstSequence: 1, count: 2 }, '86070001000200'],
  [{ op: 'resend', status: 'gone' }, '860706'],
  [{ op: 'start', status: 'mtu-too-small' }, '810704'],
];

describe('control codec', () => {
  it.each(REQUESTS)('writes and reads the request %o', (request, text) => {
    expect(hex(encodeControlRequest(request, 7))).toBe(text);
    expect(decodeControlRequest(bytes(text))).toEqual({ ok: true, request, tag: 7 });
  });

  it.each(REPLIES)('writes and reads the answer %o', (reply, text) => {
    expect(hex(encodeControlReply(reply, 7))).toBe(text);
    expect(decodeControlReply(bytes(text))).toEqual({ ok: true, reply, tag: 7 });
  });

  it.each([
    ['', 'unknown-operation'],
    ['0907', 'unknown-operation'],
    ['010700', 'bad-length'],
    ['06070000', 'bad-length'],
    ['060700000000', 'bad-value'],
  ])('refuses the request %s as %s', (text, status) => {
    expect(decodeControlRequest(bytes(text))).toMatchObject({ ok: false, status });
  });

  it.each([
    ['8107', 'too-short'],
    ['010700', 'unknown-answer'],
    ['890700', 'unknown-answer'],
    ['8107ff', 'unknown-answer'],
    ['810700', 'length-mismatch'],
    ['86070600', 'length-mismatch'],
  ])('refuses the answer %s as %s', (text, code) => {
    expect(decodeControlReply(bytes(text))).toMatchObject({ ok: false, fault: { code } });
  });

  it('never throws at arbitrary bytes', () => {
    fc.assert(
      fc.property(fc.uint8Array({ maxLength: 12 }), (noise) => {
        decodeControlRequest(noise);
        decodeControlReply(noise);
      }),
    );
  });

  it('refuses to write a field that does not fit', () => {
    const request = { op: 'resend', firstSequence: 65536, count: 1 } as const;
    expect(() => encodeControlRequest(request, 0)).toThrow(/firstSequence.*65535/);
  });
});
