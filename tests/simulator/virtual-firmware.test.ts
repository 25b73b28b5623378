import { describe, expect, it } from 'vitest';
import type { ControlRequest } from '../../src/core/packets/control.ts';
import { decodeControlReply, encodeControlRequest } from '../../src/core/packets/control-codec.ts';
import { decodeStreamPacket } from '../../src/core/packets/stream-packet.ts';
import { VirtualFirmware } from '../../src/core/simulator/virtual-firmware.ts';
import { plainHardware } from './firmware-hardware.ts';

const S = 1e6;

function startedFirmware(firstSequence = 0, ring = 240) {
  const firmware = new VirtualFirmware(plainHardware(firstSequence, 10_000, ring));
  const ask = (request: ControlRequest, nowUs: number) => {
    const decoded = decodeControlReply(firmware.onRequest(encodeControlRequest(request, 7), nowUs));
    if (!decoded.ok) throw new Error(decoded.fault.message);
    expect(decoded.tag).toBe(7);
    return decoded.reply;
  };
  const advance = (nowUs: number) =>
    firmware.advance(nowUs).map((bytes) => {
      const decoded = decodeStreamPacket(bytes);
      if (!decoded.ok) throw new Error(decoded.fault.message);
      return decoded.packet;
    });
  const resend = (first: number, count: number, nowUs: number) =>
    ask({ op: 'resend', firstSequence: first, count }, nowUs);
  firmware.linkUp(247);
  return { firmware, ask, advance, resend };
}

describe('the virtual firmware', () => {
  it('sends nothing before it is started, then from the sequence it names', () => {
    const { ask, advance } = startedFirmware(65_530);
    expect(advance(1 * S)).toEqual([]);
    const reply = ask({ op: 'start' }, 1 * S);
    expect(reply).toMatchObject({ status: 'ok', nextSequence: (65_530 + 20) & 0xffff });
    const sequences = advance(1.5 * S).map((packet) => packet.sequence);
    expect(sequences).toEqual(Array.from({ length: 10 }, (_, i) => 14 + i));
  });

  it('sends nothing twice and loses nothing when it is started while it streams', () => {
    const { ask, advance } = startedFirmware();
    ask({ op: 'start' }, 0);
    const early = advance(0.5 * S);
    expect(ask({ op: 'start' }, 1 * S)).toMatchObject({ nextSequence: 20 });
    const all = [...early, ...advance(1.5 * S)].map((packet) => packet.sequence);
    expect(all).toEqual(Array.from({ length: 30 }, (_, i) => i));
  });

  it('answers pings with its own tick, wrapped, in any state', () => {
    const { ask } = startedFirmware();
    const atUs = 10_000 * S;
    const tick = Math.floor(4e9 + 10_000 * 32_768 * (1 + 40e-6)) % 2 ** 32;
    expect(ask({ op: 'ping' }, atUs)).toEqual({ op: 'ping', status: 'ok', tick });
    expect(tick).toBeLessThan(4e9);
  });

  it('sends kept packets again with the bit set and everything else unchanged', () => {
    const { ask, advance, resend } = startedFirmware(65_534);
    ask({ op: 'start' }, 0);
    const first = advance(1 * S);
    expect(resend(65_534, 4, 1 * S)).toMatchObject({ firstSequence: 65_534, count: 4 });
    const again = advance(1 * S);
    expect(again).toEqual(first.slice(0, 4).map((packet) => ({ ...packet, resent: true })));
  });

  it('names the part of a wanted run that it still has, or says that all is gone', () => {
    const { ask, advance, resend } = startedFirmware(0, 20);
    expect(resend(0, 1, 0).status).toBe('wrong-state');
    ask({ op: 'start' }, 0);
    advance(5 * S);
    expect(resend(70, 20, 5 * S)).toMatchObject({ firstSequence: 80, count: 10 });
    expect(resend(60, 20, 5 * S).status).toBe('gone');
    expect(resend(200, 5, 5 * S).status).toBe('gone');
  });

  it('goes on filling its ring while its link is down, and counts on', () => {
    const { firmware, ask, advance, resend } = startedFirmware();
    ask({ op: 'start' }, 0);
    advance(2 * S);
    firmware.linkLost(2 * S);
    expect(firmware.advance(6 * S)).toEqual([]);
    firmware.linkUp(247);
    expect(firmware.advance(7 * S)).toEqual([]);
    expect(ask({ op: 'start' }, 8 * S)).toMatchObject({ nextSequence: 160 });
    expect(resend(40, 120, 8 * S)).toMatchObject({ firstSequence: 40, count: 120 });
    expect(advance(8 * S)).toHaveLength(120);
  });

  it('gives up holding after a minute: what was before is gone', () => {
    const { firmware, ask, resend } = startedFirmware();
    ask({ op: 'start' }, 0);
    firmware.linkLost(2 * S);
    firmware.linkUp(247);
    ask({ op: 'start' }, 63 * S);
    expect(resend(0, 2000, 63 * S).status).toBe('gone');
  });

  it('does not start over too small an MTU', () => {
    const { firmware, ask, advance } = startedFirmware();
    firmware.linkUp(64);
    expect(ask({ op: 'start' }, 0).status).toBe('mtu-too-small');
    expect(advance(1 * S)).toEqual([]);
    firmware.linkUp(65);
    expect(ask({ op: 'start' }, 1 * S).status).toBe('ok');
  });

  it('splits packets to fit the MTU, and gives up kept ones that do not fit a new link', () => {
    const samples = Int16Array.from({ length: 60 }, (_, i) => i - 30);
    const tick = (i: number) => (2 ** 32 - 500 + 100 * i) % 2 ** 32;
    const flags = { clipped: false, dropped: true, resent: false };
    const packet = { ...flags, samples, firstTick: tick(0), spanTicks: 900, magnetometer: null };
    const packets = [0, 1, 2].map((i) => ({
      madeUs: (i + 1) * S,
      packet: { ...packet, sequence: 65_534 + i },
    }));
    const firmware = new VirtualFirmware({ ...plainHardware(0, 0), packets: packets.values() });
    const ask = (request: ControlRequest, nowUs: number) =>
      decodeControlReply(firmware.onRequest(encodeControlRequest(request, 0), nowUs));
    const sent = (nowUs: number) =>
      firmware.advance(nowUs).map((bytes) => {
        const decoded = decodeStreamPacket(bytes);
        if (!decoded.ok) throw new Error(decoded.fault.message);
        return { ...decoded.packet, length: bytes.length };
      });

    firmware.linkUp(64 + 12);
    ask({ op: 'start' }, 0);
    const parts = sent(1 * S);
    // (76 - 19) / 12 is 4, rounded down: 4, 4 and 2 samples.
    expect(parts.map((part) => part.samples.length / 6)).toEqual([4, 4, 2]);
    expect(parts.map((part) => part.sequence)).toEqual([65_534, 65_535, 0]);
    // Nothing is lost before the first packet after a start.
    expect(parts.map((part) => part.dropped)).toEqual([false, false, false]);
    expect(parts.map((part) => part.firstTick)).toEqual([tick(0), tick(4), tick(8)]);
    expect(parts.map((part) => part.spanTicks)).toEqual([300, 300, 100]);
    expect(parts.flatMap((part) => Array.from(part.samples))).toEqual(Array.from(samples));
    expect(Math.max(...parts.map((part) => part.length))).toBeLessThanOrEqual(76 - 3);

    firmware.linkLost(1.5 * S);
    firmware.linkUp(65);
    expect(ask({ op: 'start' }, 2.5 * S)).toMatchObject({ reply: { nextSequence: 4 } });
    // Parts of four samples are longer than a notification of 62 bytes: only what came after them is left.
    expect(ask({ op: 'resend', firstSequence: 65_534, count: 5 }, 2.5 * S)).toMatchObject({
      reply: { status: 'gone' },
    });
    expect(ask({ op: 'resend', firstSequence: 0, count: 9 }, 2.5 * S)).toMatchObject({
      reply: { status: 'ok', firstSequence: 3, count: 1 },
    });
    const later = sent(3 * S);
    expect(later.map((part) => part.sequence)).toEqual([4, 5, 6, 7, 3]);
    expect(later.map((part) => part.dropped)).toEqual([true, false, false, false, false]);
  });

  it('blinks for as long as it was asked, stops on request, and is configured only when idle', () => {
    const { firmware, ask, advance } = startedFirmware();
    ask({ op: 'identify', seconds: 5 }, 1 * S);
    expect([firmware.isBlinking(5.9 * S), firmware.isBlinking(6 * S)]).toEqual([true, false]);
    const setting = { op: 'configure', gyroRangeDegS: 2000, accelRangeG: 16 } as const;
    expect(ask({ ...setting, rateHz: 200 }, 1 * S).status).toBe('ok');
    expect(ask({ ...setting, rateHz: 123 }, 1 * S).status).toBe('bad-value');
    expect(ask({ ...setting, rateHz: 200, accelRangeG: 8 }, 1 * S).status).toBe('bad-value');
    ask({ op: 'start' }, 2 * S);
    expect(ask({ ...setting, rateHz: 200 }, 2 * S).status).toBe('wrong-state');
    expect(ask({ op: 'stop' }, 3 * S).status).toBe('ok');
    expect(advance(3 * S)).toHaveLength(20);
    expect(advance(9 * S)).toEqual([]);
  });

  it('refuses what is no request, with opcode and tag echoed', () => {
    const { firmware } = startedFirmware();
    expect(firmware.onRequest(Uint8Array.of(99, 5), 0)).toEqual(Uint8Array.of(99 | 0x80, 5, 1));
    expect(firmware.onRequest(Uint8Array.of(1, 5, 0), 0)).toEqual(Uint8Array.of(0x81, 5, 2));
    expect(firmware.onRequest(new Uint8Array(0), 0)).toHaveLength(3);
  });
});
