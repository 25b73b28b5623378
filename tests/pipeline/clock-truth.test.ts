import { describe, expect, it } from 'vitest';
import { SEGMENTS } from '../../src/core/arm/segments.ts';
import { hostTimeUs, tickAt } from '../../src/core/clocks/clock-map.ts';
import { type Random, seededRandom } from '../../src/core/maths/random.ts';
import { encodeSensorInfo } from '../../src/core/packets/sensor-info.ts';
import { encodeStreamPacket } from '../../src/core/packets/stream-packet.ts';
import {
  createPipeline,
  type PipelineState,
  stepPipeline,
} from '../../src/core/pipeline/pipeline.ts';
import type { SetRecord } from '../../src/core/recording/set-record.ts';
import { sampleDescription } from '../recording/sample-set.ts';

const SCALE = 0.001;
const PER_PACKET = 10;

/** Turning rate of three sensors held in one hand and shaken: rad/s, smooth, never the same twice. */
function rateAt(trueS: number): number {
  return (
    6 * Math.sin(2 * Math.PI * 1.7 * trueS) +
    4 * Math.sin(2 * Math.PI * 2.6 * trueS + 1) +
    2 * Math.sin(2 * Math.PI * 0.31 * trueS + 2)
  );
}

interface Clock {
  readonly ppm: number;
  readonly startTick: number;
  /** Seconds during which the link is down; what was sent then comes again afterwards. */
  readonly drop?: readonly [from: number, to: number];
}

const trueUsOf = (clock: Clock, tick: number) => (tick - clock.startTick) / (1 + clock.ppm * 1e-6);

/** Radio delays between 5 and 60 ms: mostly short, as on a good link, or any alike. */
const DELAYS_US = {
  short: (random: Random) => Math.min(60_000, 5000 - 15_000 * Math.log(1 - random.uniform(0, 1))),
  uniform: (random: Random) => random.uniform(5000, 60_000),
} as const;
type Delays = keyof typeof DELAYS_US;

/** Everything three sensors send over so many seconds; the shake is asked for after `shakeAtS`. */
function shakenSet(
  seed: number,
  clocks: readonly Clock[],
  seconds: number,
  delays: Delays,
  shakeAtS: number,
): SetRecord[] {
  const random = seededRandom(seed);
  const records: SetRecord[] = [
    { kind: 'event', hostTimeUs: shakeAtS * 1e6, event: { type: 'shake-requested' } },
  ];
  clocks.forEach((clock, k) => {
    const segment = SEGMENTS[k]!;
    const bytes = encodeSensorInfo({
      protocolVersion: 1,
      serial: `000000000000000${k}`,
      firmwareVersion: '1.0.0',
      tickHz: 1_000_000,
      rateHz: 200,
      supportedRatesHz: [200],
      gyroRangeDegS: 2000,
      accelRangeG: 16,
      gyroScaleRadS: Math.fround(SCALE),
      accelScaleMS2: Math.fround(SCALE),
      resendPackets: 240,
      magnetometerScaleT: null,
    });
    records.push({ kind: 'sensor-info', segment, hostTimeUs: 0, bytes });
    const rateHz = 200 * (1 + random.uniform(-0.02, 0.02));
    let arrivedUs = 0;
    for (let first = 0; first / rateHz < seconds; first += PER_PACKET) {
      const tick = (n: number) =>
        clock.startTick + Math.round((n / rateHz) * 1e6 * (1 + clock.ppm * 1e-6));
      const samples = new Int16Array(6 * PER_PACKET);
      for (let i = 0; i < PER_PACKET; i++) {
        samples[6 * i] = Math.round(rateAt((first + i) / rateHz) / SCALE);
        samples[6 * i + 5] = Math.round(9.80665 / SCALE);
      }
      const last = first + PER_PACKET - 1;
      const trueUs = (last / rateHz) * 1e6;
      const isDown =
        clock.drop !== undefined && trueUs / 1e6 > clock.drop[0] && trueUs / 1e6 < clock.drop[1];
      const dueUs = isDown ? clock.drop![1] * 1e6 + 2e5 + first * 50 : trueUs;
      arrivedUs = isDown ? arrivedUs : Math.max(arrivedUs, trueUs + DELAYS_US[delays](random));
      const packet = {
        clipped: false,
        dropped: false,
        resent: isDown,
        sequence: (first / PER_PACKET) & 0xffff,
        firstTick: tick(first) % 2 ** 32,
        spanTicks: tick(last) - tick(first),
        samples,
        magnetometer: null,
      };
      records.push({
        kind: 'notification',
        segment,
        hostTimeUs: isDown ? dueUs : arrivedUs,
        bytes: encodeStreamPacket(packet),
      });
    }
  });
  return records.sort((a, b) => a.hostTimeUs - b.hostTimeUs);
}

/** How far apart in true time two neighbouring sensors are read now, at most, milliseconds. */
function relativeErrorMs(state: PipelineState, clocks: readonly Clock[]): number {
  const atUs = state.arm.timeline.nextUs;
  const trueMs = state.intakes.map((intake, k) => {
    const tick = tickAt(intake.clock!, atUs + state.arm.lags.appliedUs[k]!);
    return trueUsOf(clocks[k]!, tick) / 1000;
  });
  const [upper, fore, implement] = trueMs;
  return Math.max(Math.abs(fore! - upper!), Math.abs(implement! - fore!));
}

describe('the clocks of three sensors with crystals 100 ppm apart and delays of 5 to 60 ms', () => {
  // Wraps of the 32-bit tick at 20 and 70 s; the forearm's link is down from 40 to 48 s.
  const clocks: readonly Clock[] = [
    { ppm: 50, startTick: 2 ** 32 - 20e6 },
    { ppm: -50, startTick: 12345, drop: [40, 48] },
    { ppm: 20, startTick: 2 ** 32 - 70e6 },
  ];

  /** Relative errors at every record after the shake, ms, and the pipeline at the end. */
  function run(seed: number, delays: Delays, shakeAtS: number) {
    const state = createPipeline(sampleDescription);
    const errorsMs: number[] = [];
    for (const record of shakenSet(seed, clocks, 100, delays, shakeAtS)) {
      stepPipeline(state, record);
      if (state.arm.lags.shake.phase === 'aligned') errorsMs.push(relativeErrorMs(state, clocks));
    }
    return { state, errorsMs: errorsMs.sort((a, b) => a - b) };
  }

  // The goal of design.md section 5 is 1 ms.
  it.each([1, 2, 3, 4, 5, 6])(
    'agree within 1 ms from a shake at 3 s on, mostly short delays (%i)',
    (seed) => {
      const { state, errorsMs } = run(seed, 'short', 3);
      expect(errorsMs.length).toBeGreaterThan(5000);
      expect(errorsMs.at(-1)).toBeLessThan(1);
      // every sample went in, in order, over wraps and the reconnect
      const missing = state.intakes.map((i) => i.order.lostPackets + i.refusedPackets);
      expect(missing).toEqual([0, 0, 0]);
    },
  );

  // Delays uniform over the whole 55 ms are the worst case: the earliest of 20 packets a second defines the
  // clock. Neighbours are apart by 1 ms at most at 95 of 100 instants, connected 20 s before the shake.
  it.each([1, 2, 3, 4, 5, 6])(
    'agree within 1 ms at 95 of 100 instants under uniform delays (%i)',
    (seed) => {
      const { state, errorsMs } = run(seed, 'uniform', 20);
      expect(errorsMs[Math.floor(0.95 * errorsMs.length)]).toBeLessThan(1);
      for (const [k, intake] of state.intakes.entries()) {
        const { clock, newestTick } = intake;
        const lateMs = (hostTimeUs(clock!, newestTick) - trueUsOf(clocks[k]!, newestTick)) / 1000;
        // late by the least delay of 5 ms, as nothing that only listens can see
        expect(Math.abs(lateMs - 5)).toBeLessThan(1);
      }
    },
  );

  it('says when the sensors were not shaken, or not together', () => {
    const still = createPipeline(sampleDescription);
    for (const record of shakenSet(1, clocks, 8, 'short', 1)) {
      if (record.kind !== 'notification') stepPipeline(still, record);
      else {
        // the same packets with nothing turning
        const view = record.bytes.slice();
        const quiet = encodeStreamPacket({
          clipped: false,
          dropped: false,
          resent: false,
          sequence: view[2]! | (view[3]! << 8),
          firstTick: new DataView(view.buffer).getUint32(4, true),
          spanTicks: new DataView(view.buffer).getUint32(8, true),
          samples: Int16Array.from({ length: 60 }, (_, i) => (i % 6 === 5 ? 9807 : 0)),
          magnetometer: null,
        });
        stepPipeline(still, { ...record, bytes: quiet });
      }
    }
    expect(still.arm.lags.shake).toMatchObject({ phase: 'failed' });
    expect(still.arm.lags.shake).toHaveProperty('problem', expect.stringContaining('hardly moved'));
  });
});
