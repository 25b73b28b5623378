import { describe, expect, it } from 'vitest';
import { SEGMENTS, type Segment } from '../../src/core/arm/segments.ts';
import { sampleTable } from '../../src/core/exports/sample-table.ts';
import { type SensorSample, sensorSamples } from '../../src/core/exports/sensor-samples.ts';
import { seededRandom } from '../../src/core/maths/random.ts';
import { decodeSensorInfo, encodeSensorInfo } from '../../src/core/packets/sensor-info.ts';
import {
  decodeStreamPacket,
  encodeStreamPacket,
  type StreamPacket,
} from '../../src/core/packets/stream-packet.ts';
import { healthOf } from '../../src/core/pipeline/sensor-intake.ts';
import type { SetRecord } from '../../src/core/recording/set-record.ts';
import { simulatedSet } from '../pipeline/simulated-set.ts';
import { finishedState } from './demo-set.ts';

const { session, records } = simulatedSet({ swings: 2 });

function infoOf(all: readonly SetRecord[], segment: Segment) {
  const record = all.find((r) => r.kind === 'sensor-info' && r.segment === segment);
  if (record?.kind !== 'sensor-info') throw new Error('no information');
  const decoded = decodeSensorInfo(record.bytes);
  if (!decoded.ok) throw new Error(decoded.fault.message);
  return decoded.info;
}

function packetsOf(all: readonly SetRecord[], segment: Segment): StreamPacket[] {
  return all.flatMap((record) => {
    if (record.kind !== 'notification' || record.segment !== segment) return [];
    const decoded = decodeStreamPacket(record.bytes);
    return decoded.ok ? [decoded.packet] : [];
  });
}

const valuesOf = ({ gyro, accel }: SensorSample) => [...gyro, ...accel];

describe('sensorSamples', () => {
  it.each(SEGMENTS)(
    'gives every sample of the %s once, in SI units, with its place in time',
    (segment) => {
      const samples = [...sensorSamples(records, segment)];
      const info = infoOf(records, segment);
      // SPEC.md: gx gy gz ax ay az as int16, times the scales of the information record.
      const expected = packetsOf(records, segment).flatMap(({ samples: raw }) =>
        Array.from({ length: raw.length / 6 }, (_, n) =>
          Array.from(
            raw.subarray(6 * n, 6 * n + 6),
            (value, i) => value * (i < 3 ? info.gyroScaleRadS : info.accelScaleMS2),
          ),
        ),
      );
      expect(samples.map(valuesOf)).toEqual(expected);
      const state = finishedState({ description: session.description, records });
      const health = healthOf(state.intakes[SEGMENTS.indexOf(segment)]!);
      expect(samples.filter(({ clipped }) => clipped)).toHaveLength(health.clippedSamples);
      const { hostUsFromTick } = session.truth.sensors[segment];
      const ticks = packetsOf(records, segment).flatMap(
        ({ firstTick, spanTicks, samples: raw }) => {
          const count = raw.length / 6;
          return Array.from({ length: count }, (_, n) => firstTick + (n * spanTicks) / (count - 1));
        },
      );
      // Design.md section 5: better than 1 ms between sensors; half a millisecond of jitter in the map of a set of
      // half a minute, and pings leave some of the least delay.
      samples.forEach(({ timeUs }, n) => {
        expect(Math.abs(timeUs - hostUsFromTick(ticks[n]!))).toBeLessThan(2000);
      });
    },
  );

  it('puts packets sent again in their place, takes none twice, and leaves out what never came', () => {
    const random = seededRandom(4);
    const resending = records.map((record): SetRecord => {
      if (record.kind !== 'sensor-info') return record;
      const info = { ...infoOf(records, record.segment), resendPackets: 240 };
      return { ...record, bytes: encodeSensorInfo(info) };
    });
    const withheld = resending
      .flatMap((record): SetRecord[] => {
        if (record.kind !== 'notification') return [record];
        const draw = random.uniform(0, 1);
        if (draw > 0.1) return [record];
        const [packet] = packetsOf([record], record.segment);
        const bytes = encodeStreamPacket({ ...packet!, resent: true });
        const again = { ...record, bytes, hostTimeUs: record.hostTimeUs + 3e5 };
        return draw > 0.05 ? [again] : [record, again];
      })
      .sort((a, b) => a.hostTimeUs - b.hostTimeUs);
    const whole = [...sensorSamples(resending, 'forearm')].map(valuesOf);
    expect([...sensorSamples(withheld, 'forearm')].map(valuesOf)).toEqual(whole);
    const lost = records.filter(
      (record) =>
        record.kind !== 'notification' ||
        record.segment !== 'forearm' ||
        packetsOf([record], 'forearm')[0]!.sequence % 50 !== 7,
    );
    const left = packetsOf(lost, 'forearm').reduce(
      (sum, packet) => sum + packet.samples.length / 6,
      0,
    );
    expect(left).toBeLessThan(whole.length);
    expect([...sensorSamples(lost, 'forearm')]).toHaveLength(left);
  });

  it('goes on when a sensor was switched off and on, on a new clock', () => {
    const gapUs = 1e6 + records.at(-1)!.hostTimeUs;
    const later = records.map((record) => shifted(record, gapUs));
    const once = [...sensorSamples(records, 'implement')];
    const twice = [...sensorSamples([...records, ...later], 'implement')];
    expect(twice.map(valuesOf)).toEqual([...once, ...once].map(valuesOf));
    twice.slice(once.length).forEach(({ timeUs }, n) => {
      expect(timeUs - gapUs).toBeCloseTo(once[n]!.timeUs, 3);
    });
  });

  it('does not wait for the end of a long set, and follows a crystal whose pace changes', () => {
    const { all, trueUs } = wanderingSensor();
    let read = 0;
    const counted = (function* () {
      for (const record of all) {
        read++;
        yield record;
      }
    })();
    const errors: number[] = [];
    for (const { timeUs } of sensorSamples(counted, 'implement')) {
      if (errors.length === 0) expect(read).toBeLessThan(all.length / 3);
      errors.push(timeUs - trueUs[errors.length]!);
    }
    expect(errors).toHaveLength(trueUs.length);
    // Every packet is at least LEAST_DELAY_US late, which nothing that only listens can see.
    const off = errors.map((error) => Math.abs(error - LEAST_DELAY_US));
    // 150 s of the change of 40 ppm are 6 ms. One line through the last five minutes, carried back over it, would
    // be 24 ms off (measured), the clock as it was when each sample came 41 ms in the first second.
    expect(Math.max(...off)).toBeLessThan(6000);
    expect(Math.max(...off.slice(0, off.length / 4))).toBeLessThan(1000);
  });
});

describe('sampleTable', () => {
  it('has the samples as rows, seconds since the start of the set', () => {
    const [first] = sensorSamples(records, 'upperArm');
    const [row] = sampleTable(records, 'upperArm').rows;
    expect(row).toEqual([first!.timeUs / 1e6, ...first!.gyro, ...first!.accel, first!.clipped]);
  });
});

function shifted(record: SetRecord, byUs: number): SetRecord {
  const hostTimeUs = record.hostTimeUs + byUs;
  if (record.kind !== 'event' || record.event.type !== 'clock-ping')
    return { ...record, hostTimeUs };
  const event = { ...record.event, sentTimeUs: record.event.sentTimeUs + byUs };
  return { ...record, hostTimeUs, event };
}

const LEAST_DELAY_US = 5000;

/** Twenty minutes at 100 Hz, 40 samples a packet: a crystal 20 ppm slow, from the middle on 20 ppm fast. */
function wanderingSensor(): { all: SetRecord[]; trueUs: number[] } {
  const random = seededRandom(9);
  const info = {
    ...infoOf(records, 'implement'),
    rateHz: 100,
    supportedRatesHz: [100, 200],
    resendPackets: 0,
  };
  const bytes = encodeSensorInfo(info);
  const all: SetRecord[] = [{ kind: 'sensor-info', segment: 'implement', hostTimeUs: 0, bytes }];
  const trueUs: number[] = [];
  const perSample = info.tickHz / 100;
  const half = 6e8;
  const hostUs = (tick: number) => {
    const nominalUs = (tick / info.tickHz) * 1e6;
    return nominalUs + 20e-6 * (Math.min(nominalUs, half) - Math.max(0, nominalUs - half));
  };
  for (let sequence = 0; sequence < 3000; sequence++) {
    const firstTick = 1000 + 40 * sequence * perSample;
    const packet: StreamPacket = {
      clipped: false,
      dropped: false,
      resent: false,
      sequence,
      firstTick,
      spanTicks: 39 * perSample,
      samples: Int16Array.from({ length: 240 }, (_, i) => (i % 6 === 5 ? 2000 : 0)),
      magnetometer: null,
    };
    for (let n = 0; n < 40; n++) trueUs.push(hostUs(firstTick + n * perSample));
    const delayUs = LEAST_DELAY_US - 1e4 * Math.log(1 - random.uniform(0, 1));
    all.push({
      kind: 'notification',
      segment: 'implement',
      hostTimeUs: trueUs.at(-1)! + delayUs,
      bytes: encodeStreamPacket(packet),
    });
  }
  return { all, trueUs };
}
