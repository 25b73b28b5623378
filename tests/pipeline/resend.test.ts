import { describe, expect, it } from 'vitest';
import type { Segment } from '../../src/core/arm/segments.ts';
import { seededRandom } from '../../src/core/maths/random.ts';
import { TRACK_CAPACITY } from '../../src/core/orientation/sensor-track.ts';
import { decodeSensorInfo, encodeSensorInfo } from '../../src/core/packets/sensor-info.ts';
import { decodeStreamPacket, encodeStreamPacket } from '../../src/core/packets/stream-packet.ts';
import { createPipeline, stepPipeline, viewPipeline } from '../../src/core/pipeline/pipeline.ts';
import { longestWaitS } from '../../src/core/pipeline/sensor-intake.ts';
import type { SetRecord } from '../../src/core/recording/set-record.ts';
import { simulatedSet } from './simulated-set.ts';

const { session, records: sent } = simulatedSet({ swings: 5, swingIntervalS: 6 });

/** The same set from sensors that can send 12 s again. */
const records = sent.map((record): SetRecord => {
  if (record.kind !== 'sensor-info') return record;
  const decoded = decodeSensorInfo(record.bytes);
  if (!decoded.ok) throw new Error(decoded.fault.message);
  return { ...record, bytes: encodeSensorInfo({ ...decoded.info, resendPackets: 240 }) };
});

function sequenceOf(record: SetRecord): number {
  if (record.kind !== 'notification') return -1;
  const decoded = decodeStreamPacket(record.bytes);
  return decoded.ok ? decoded.packet.sequence : -1;
}

/** The packet sent again at a later time. */
function again(record: SetRecord, hostTimeUs: number): SetRecord {
  if (record.kind !== 'notification') return record;
  const decoded = decodeStreamPacket(record.bytes);
  if (!decoded.ok) throw new Error(decoded.fault.message);
  return { ...record, hostTimeUs, bytes: encodeStreamPacket({ ...decoded.packet, resent: true }) };
}

const inTime = (all: SetRecord[]) => [...all].sort((a, b) => a.hostTimeUs - b.hostTimeUs);

function view(all: readonly SetRecord[]) {
  const state = createPipeline(session.description);
  for (const record of all) stepPipeline(state, record);
  return viewPipeline(state);
}

const whole = view(records);

/** Everything of one sensor between two times, seconds. */
function silence(segment: Segment, fromS: number, toS: number) {
  const isMissing = (r: SetRecord) =>
    r.kind === 'notification' &&
    r.segment === segment &&
    r.hostTimeUs > fromS * 1e6 &&
    r.hostTimeUs < toS * 1e6;
  return { missing: records.filter(isMissing), rest: records.filter((r) => !isMissing(r)) };
}

describe('packets sent again', () => {
  it.each([100, 200, 400, 800, 1600, 6400])(
    'at %i Hz are waited for no longer than the tracks of the others remember',
    (rateHz) => {
      const decoded = decodeSensorInfo(records.find((r) => r.kind === 'sensor-info')!.bytes);
      if (!decoded.ok) throw new Error(decoded.fault.message);
      const waitS = longestWaitS({ ...decoded.info, rateHz });
      // a second of patience on top; parts are up to 3 % off their nominal rate (SPEC.md)
      expect(1.03 * rateHz * (waitS + 1)).toBeLessThan(TRACK_CAPACITY);
      expect(longestWaitS({ ...decoded.info, rateHz, resendPackets: 0 })).toBe(0);
      // what SPEC.md asks of a ring is used whole at the rates it names
      if (rateHz <= 400) expect(waitS).toBeGreaterThan(10);
    },
  );

  it('leave no trace: 5 % withheld and sent again a little later give every sample in order', () => {
    const random = seededRandom(4);
    const all = records.flatMap((record): SetRecord[] => {
      if (record.kind !== 'notification' || random.uniform(0, 1) > 0.05) return [record];
      return [again(record, record.hostTimeUs + random.uniform(1e5, 5e5))];
    });
    const now = view(inTime(all));
    expect(now.sensors.forearm.samples).toBe(whole.sensors.forearm.samples);
    expect(now.sensors.forearm.lostPackets).toBe(0);
    expect(now.swings).toHaveLength(whole.swings.length);
    now.swings.forEach(({ swing }, i) => {
      expect(swing.voidReason).toBeNull();
      // The clocks heard other packets; the samples are the same. A millisecond moves the reach by 1 to 2 mm.
      expect(Math.abs(swing.reachM - whole.swings[i]!.swing.reachM)).toBeLessThan(0.003);
    });
  });

  it('fill a silence of 8 s: the swings in it get their reach when the packets are there', () => {
    const fromS = session.truth.swings[1]!.contactTimeUs / 1e6 - 1;
    const { missing, rest } = silence('forearm', fromS, fromS + 8);
    const late = missing.map((r, i) => again(r, (fromS + 8.2) * 1e6 + i * 3000));
    const now = view(inTime([...rest, ...late]));
    expect(now.sensors.forearm.samples).toBe(whole.sensors.forearm.samples);
    expect(now.swings.map((s) => s.swing.voidReason)).toEqual([null, null, null, null, null]);
  });

  it('that are gone mark a gap, and void the swings it touches', () => {
    const fromS = session.truth.swings[1]!.contactTimeUs / 1e6 - 1;
    const { missing, rest } = silence('forearm', fromS, fromS + 8);
    const event = {
      type: 'packets-lost',
      segment: 'forearm',
      firstSequence: sequenceOf(missing[0]!),
      count: missing.length,
    } as const;
    const lost: SetRecord = { kind: 'event', hostTimeUs: (fromS + 8.5) * 1e6, event };
    const now = view(inTime([...rest, lost]));
    expect(now.sensors.forearm.lostPackets).toBe(missing.length);
    const reasons = now.swings.map((s) => s.swing.voidReason);
    expect(reasons).toEqual([null, 'sensor-gap', 'sensor-gap', 'unsettled', null]);
  });

  it('are not waited for longer than a ring lasts', () => {
    const fromS = session.truth.swings[0]!.contactTimeUs / 1e6 + 1;
    const { rest } = silence('upperArm', fromS, fromS + 16);
    const now = view(rest);
    expect(now.swings).toHaveLength(5);
    expect(now.swings[0]!.swing.voidReason).toBeNull();
    expect(now.swings[1]!.swing.voidReason).toBe('sensor-gap');
    expect(now.swings[4]!.swing.voidReason).toBeNull();
    expect(now.sensors.upperArm.lostPackets).toBeGreaterThan(300);
  });

  it('refuses samples at ten times the rate the sensor told, and goes on with the others', () => {
    const fast = records.map((record): SetRecord => {
      if (record.kind !== 'notification' || record.segment !== 'implement') return record;
      const decoded = decodeStreamPacket(record.bytes);
      if (!decoded.ok) throw new Error(decoded.fault.message);
      const spanTicks = Math.round(decoded.packet.spanTicks / 10);
      return { ...record, bytes: encodeStreamPacket({ ...decoded.packet, spanTicks }) };
    });
    const now = view(fast);
    expect(now.sensors.implement.lastFault).toMatch(/20\d\d samples per second instead of 200/);
    expect(now.sensors.implement.packets).toBe(0);
    expect(now.sensors.forearm.refusedPackets).toBe(0);
  });
});
