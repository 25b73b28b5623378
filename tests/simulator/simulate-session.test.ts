import { describe, expect, it } from 'vitest';
import { SEGMENTS, type Segment } from '../../src/core/arm/segments.ts';
import { unwrapTick } from '../../src/core/clocks/tick-unwrap.ts';
import { decodeSensorInfo, type SensorInfo } from '../../src/core/packets/sensor-info.ts';
import { decodeStreamPacket, type StreamPacket } from '../../src/core/packets/stream-packet.ts';
import { landBall } from '../../src/core/simulator/ball-flight.ts';
import { DEFAULT_ERRORS, NO_ERRORS } from '../../src/core/simulator/sensor-errors.ts';
import type {
  SessionOptions,
  SimulatedSession,
  SimulatedStep,
} from '../../src/core/simulator/session-types.ts';
import { simulateSession } from '../../src/core/simulator/simulate-session.ts';
import { sessionOptions } from './session-options.ts';

const DESCRIPTION = { setId: 'test', startedAtMs: 0, programVersion: '0' };

function run(changed: Partial<SessionOptions> = {}): {
  readonly session: SimulatedSession;
  readonly steps: readonly SimulatedStep[];
} {
  const session = simulateSession(sessionOptions(changed), DESCRIPTION);
  return { session, steps: [...session.steps] };
}

/** All bytes in order, as one string. */
const bytesOf = (steps: readonly SimulatedStep[]) =>
  steps
    .map((step) =>
      step.kind === 'record' && step.record.kind !== 'event'
        ? Buffer.from(step.record.bytes).toString('hex')
        : JSON.stringify(step),
    )
    .join('\n');

interface Decoded {
  readonly info: SensorInfo;
  readonly packets: readonly { readonly arrivalUs: number; readonly packet: StreamPacket }[];
}

function decodeSegment(steps: readonly SimulatedStep[], segment: Segment): Decoded {
  let info: SensorInfo | null = null;
  const packets: { arrivalUs: number; packet: StreamPacket }[] = [];
  for (const step of steps) {
    if (step.kind !== 'record' || step.record.kind === 'event') continue;
    const { record } = step;
    if (record.segment !== segment) continue;
    if (record.kind === 'sensor-info') {
      const decoded = decodeSensorInfo(record.bytes);
      if (!decoded.ok) expect.fail(decoded.fault.message);
      info = decoded.info;
    } else {
      const decoded = decodeStreamPacket(record.bytes);
      if (!decoded.ok) expect.fail(decoded.fault.message);
      packets.push({ arrivalUs: record.hostTimeUs, packet: decoded.packet });
    }
  }
  if (info === null) expect.fail('no sensor information');
  return { info, packets };
}

describe('simulateSession', () => {
  it('emits the same bytes for the same seed and others for another', () => {
    const one = bytesOf(run({ swings: 1 }).steps);
    expect(bytesOf(run({ swings: 1 }).steps)).toBe(one);
    expect(bytesOf(run({ swings: 1, seed: 6 }).steps)).not.toBe(one);
  });

  it('emits steps in order of host time and packets that decode, in sequence, never early', () => {
    const { session, steps } = run();
    let lastUs = 0;
    for (const step of steps) {
      const at = step.kind === 'record' ? step.record.hostTimeUs : step.hostTimeUs;
      expect(at).toBeGreaterThanOrEqual(lastUs);
      lastUs = at;
    }
    for (const segment of SEGMENTS) {
      const { packets } = decodeSegment(steps, segment);
      const { hostUsFromTick } = session.truth.sensors[segment];
      const delaysMs: number[] = [];
      let sequence = packets[0]!.packet.sequence;
      let tick = packets[0]!.packet.firstTick;
      for (const { arrivalUs, packet } of packets) {
        expect(packet.sequence).toBe(sequence);
        sequence = (sequence + 1) % 65536;
        tick = unwrapTick(tick, packet.firstTick);
        delaysMs.push((arrivalUs - hostUsFromTick(tick + packet.spanTicks)) / 1000);
      }
      // design.md 12: 5 to 60 ms; whole ticks round by 1 us
      expect(Math.min(...delaysMs)).toBeGreaterThanOrEqual(DEFAULT_ERRORS.delayMinMs - 0.002);
      expect(Math.max(...delaysMs)).toBeLessThanOrEqual(DEFAULT_ERRORS.delayMaxMs + 0.002);
    }
  });

  it.each([100, 200, 400] as const)('packs %i Hz into 10 to 40 packets a second', (rate) => {
    const { steps } = run({ nominalRateHz: rate, swings: 0 });
    const { info, packets } = decodeSegment(steps, 'forearm');
    expect(info.rateHz).toBe(rate);
    const seconds = (packets.at(-1)!.arrivalUs - packets[0]!.arrivalUs) / 1e6;
    const perSecond = packets.length / seconds;
    expect(perSecond).toBeGreaterThan(10);
    expect(perSecond).toBeLessThan(40);
    const samples = packets.reduce((sum, { packet }) => sum + packet.samples.length / 6, 0);
    // output rate off by up to 2 %, one packet at either end
    expect(Math.abs(samples / seconds / rate - 1)).toBeLessThan(0.03);
  });

  it('knocks all three sensors exactly at the true contacts', () => {
    const { session, steps } = run({ errors: NO_ERRORS, swings: 3 });
    for (const segment of SEGMENTS) {
      const { info, packets } = decodeSegment(steps, segment);
      const { hostUsFromTick } = session.truth.sensors[segment];
      const times: number[] = [];
      const acc: number[][] = [];
      let tick = packets[0]!.packet.firstTick;
      for (const { packet } of packets) {
        tick = unwrapTick(tick, packet.firstTick);
        const count = packet.samples.length / 6;
        for (let n = 0; n < count; n++) {
          times.push(hostUsFromTick(tick + (n * packet.spanTicks) / (count - 1)));
          acc.push([3, 4, 5].map((i) => packet.samples[6 * n + i]! * info.accelScaleMS2));
        }
      }
      /** Largest failure of three neighbours to lie on a line, newest of them within a time span. */
      const roughest = (fromUs: number, toUs: number) => {
        let largest = 0;
        for (let n = 2; n < times.length; n++) {
          if (times[n]! < fromUs || times[n]! >= toUs) continue;
          const second = [0, 1, 2].map((i) => acc[n]![i]! - 2 * acc[n - 1]![i]! + acc[n - 2]![i]!);
          largest = Math.max(largest, Math.hypot(...second));
        }
        return largest;
      };
      for (const { contactTimeUs } of session.truth.swings) {
        // before contact the swing is smooth; from contact on even the upper arm rings (30 m/s^2 x 0.6 at least)
        const before = roughest(contactTimeUs - 100_000, contactTimeUs - 10);
        const after = roughest(contactTimeUs - 10, contactTimeUs + 20_000);
        expect(after).toBeGreaterThan(3 * before);
      }
    }
  });

  it('loses the fraction of packets it is asked to lose', () => {
    const { steps } = run({ errors: { ...DEFAULT_ERRORS, lossFraction: 0.1 }, swings: 6 });
    const { packets } = decodeSegment(steps, 'upperArm');
    const first = packets[0]!.packet.sequence;
    const sent = ((packets.at(-1)!.packet.sequence - first) & 0xffff) + 1;
    // binomial: SE sqrt(.09/n), three of those
    expect(Math.abs(1 - packets.length / sent - 0.1)).toBeLessThan(3 * Math.sqrt(0.09 / sent));
  });

  it('silences the forearm, and it alone, during a dropout', () => {
    const dropout = { atS: 12.5, lastsS: 1.5 };
    const { steps } = run({ errors: { ...DEFAULT_ERRORS, dropout } });
    const longestPause = (segment: Segment) => {
      const { packets } = decodeSegment(steps, segment);
      return Math.max(...packets.slice(1).map((p, i) => p.arrivalUs - packets[i]!.arrivalUs)) / 1e6;
    };
    expect(Math.abs(longestPause('forearm') - 1.5)).toBeLessThan(0.15); // whole packets and delay
    expect(longestPause('implement')).toBeLessThan(0.15);
  });

  it('flags packets in which a sample hit the end of the range', () => {
    const { steps } = run({ errors: { ...NO_ERRORS, accelRangeG: 4 } });
    const { packets } = decodeSegment(steps, 'implement');
    let clipped = 0;
    for (const { packet } of packets) {
      const extreme = packet.samples.some((v) => v === 32767 || v === -32768);
      if (packet.clipped) {
        clipped++;
        expect(extreme).toBe(true);
      }
    }
    expect(clipped).toBeGreaterThan(0);
  });

  it('says the truth about reach: curve ends at the reach at contact, starts before it', () => {
    const { session } = run({ swings: 8 });
    expect(session.truth.swings.length).toBe(8);
    for (const { contactTimeUs, startTimeUs, reachM, reachCurveM } of session.truth.swings) {
      expect(reachCurveM[100]).toBe(reachM);
      expect(contactTimeUs - startTimeUs).toBeGreaterThan(100_000);
      expect(contactTimeUs - startTimeUs).toBeLessThan(700_000);
      expect(reachM).toBeGreaterThan(0.3);
      expect(reachM).toBeLessThan(0.247 + 0.194 + 0.45); // no longer than the straight arm
    }
  });

  it('moves as its strategies say: distal narrows towards contact, frozen carries its error there', () => {
    const spread = (strategy: 'distal' | 'frozen', percent: number) => {
      const { truth } = simulateSession(sessionOptions({ strategy, swings: 80 }), DESCRIPTION);
      const values = truth.swings.map((s) => s.reachCurveM[percent]!);
      const mean = values.reduce((a, b) => a + b, 0) / values.length;
      return Math.sqrt(values.reduce((a, b) => a + (b - mean) ** 2, 0) / (values.length - 1));
    };
    // 80 swings: a ratio of two SDs is known to 11 %
    expect(spread('distal', 100) / spread('distal', 50)).toBeLessThan(0.6);
    expect(spread('frozen', 100)).toBeGreaterThan(1.5 * spread('distal', 100));
  });

  it('refuses a negative number of swings', () => {
    expect(() => simulateSession(sessionOptions({ swings: -1 }), DESCRIPTION)).toThrow(RangeError);
    expect(() => simulateSession(sessionOptions({ swings: Number.NaN }), DESCRIPTION)).toThrow(
      RangeError,
    );
  });
});

describe('landing', () => {
  it('follows the reach error of the swing', () => {
    const { session, steps } = run({ swings: 30, errors: NO_ERRORS });
    const landings = steps.flatMap((step) => (step.kind === 'landing' ? [step.landing] : []));
    expect(landings.length).toBe(30);
    const best = session.description.sweetSpotBand!.reachM;
    landings.forEach((landing, i) => {
      const { contactTimeUs, reachM } = session.truth.swings[i]!;
      expect(landing.contactTimeUs).toBe(contactTimeUs);
      // timing can only make it worse
      expect(landing.points).toBeLessThanOrEqual(landBall(0, reachM - best, 0).points);
    });
    // The points depend on it: swings within 1 cm score better than those beyond 2 cm.
    const meanPoints = (near: boolean) => {
      const points = landings
        .filter((_, i) => {
          const off = Math.abs(session.truth.swings[i]!.reachM - best);
          return near ? off < 0.01 : off > 0.02;
        })
        .map((l) => l.points);
      return points.reduce((a, b) => a + b, 0) / points.length;
    };
    expect(meanPoints(true)).toBeGreaterThan(meanPoints(false));
  });

  it('is worth less the larger either error is, alike to both sides', () => {
    expect(landBall(7, 0, 0)).toEqual({ contactTimeUs: 7, points: 10, words: 'in the box' });
    let last = 10;
    for (let mm = 0; mm < 120; mm++) {
      const { points } = landBall(0, mm / 1000, 0);
      expect(points).toBeLessThanOrEqual(last);
      expect(landBall(0, -mm / 1000, 0).points).toBe(points);
      last = points;
    }
    expect(last).toBe(0);
    expect(landBall(0, 0, 0.02).words).toMatch(/short$/);
    expect(landBall(0, 0, -0.02).words).toMatch(/long$/);
    expect(landBall(0, 0.05, 0).words).toMatch(/wide$/);
  });
});
