import type { Segment } from '../arm/segments.ts';
import { type ClockMap, clockAgeS, hostTimeUs } from '../clocks/clock-map.ts';
import { decodeStreamPacket, type StreamPacket } from '../packets/stream-packet.ts';
import { DEFAULT_PARAMS } from '../pipeline/params.ts';
import {
  createIntake,
  type SensorIntake,
  takeInfo,
  takeLoss,
  takeNotification,
  takePing,
} from '../pipeline/sensor-intake.ts';
import type { SetRecord } from '../recording/set-record.ts';

/** One sample as the sensor took it, in SI units, without bench calibration. */
export interface SensorSample {
  /** Host time, microseconds. */
  readonly timeUs: number;
  /** rad/s and m/s^2, sensor frame, shape (3). */
  readonly gyro: readonly [number, number, number];
  readonly accel: readonly [number, number, number];
  /** Some axis was at the end of the range. */
  readonly clipped: boolean;
}

/**
 * A sample's time is read off the clock as it is known this long after, in seconds: the map rests on the last five
 * minutes, and its middle is where it is best.
 */
const CLOCK_WAIT_S = 150;

/** Room of an int16. */
const CLIPPED = new Set([-32768, 32767]);

/** A packet that the intake took in, and its clock. */
interface Taken {
  readonly packet: StreamPacket;
  readonly clock: ClockMap;
  readonly gyroScaleRadS: number;
  readonly accelScaleMS2: number;
  /** Unwrapped, one for each sample. */
  readonly ticks: number[];
}

/**
 * The samples of one sensor in the order they were taken, those sent again in their place, none twice. Restarts of
 * the sensor, doubled and refused packets are judged by the pipeline's own intake.
 * @param records of the whole set
 * Checked: tests/exports/samples.test.ts
 */
export function* sensorSamples(
  records: Iterable<SetRecord>,
  segment: Segment,
): Generator<SensorSample, void, void> {
  const intake = createIntake();
  const listener = new PacketListener();
  for (const record of records) {
    takeRecord(intake, record, segment, listener);
    yield* listener.release(intake.clock);
  }
  yield* listener.release(null);
}

function takeRecord(
  intake: SensorIntake,
  record: SetRecord,
  segment: Segment,
  listener: PacketListener,
): void {
  const { filter } = DEFAULT_PARAMS;
  if (record.kind === 'event') {
    const { event, hostTimeUs: atUs } = record;
    if (event.type === 'clock-ping' && event.segment === segment) {
      takePing(intake, event.tick, event.sentTimeUs, atUs);
    } else if (event.type === 'packets-lost' && event.segment === segment) {
      takeLoss(intake, event.firstSequence, event.count, listener.onSample);
    }
  } else if (record.segment === segment) {
    if (record.kind === 'sensor-info') {
      takeInfo(intake, record.bytes, filter);
    } else {
      listener.expect(record.bytes);
      takeNotification(intake, record.bytes, record.hostTimeUs, filter, listener.onSample);
    }
  }
}

/** Joins what the intake says it took in with the packets, whose samples it does not hand on. */
class PacketListener {
  /** Decoded and perhaps waiting, by the tick of the first sample as it is on the wire. */
  readonly #expected = new Map<number, StreamPacket>();
  #taken: Taken[] = [];

  expect(bytes: Uint8Array): void {
    const decoded = decodeStreamPacket(bytes);
    if (decoded.ok) this.#expected.set(decoded.packet.firstTick, decoded.packet);
  }

  readonly onSample = ({ lastTick, clock, info }: SensorIntake): void => {
    const newest = this.#taken.at(-1);
    if (newest !== undefined && 6 * newest.ticks.length < newest.packet.samples.length) {
      newest.ticks.push(lastTick);
      return;
    }
    const packet = this.#expected.get(lastTick % 2 ** 32);
    if (packet === undefined || clock === null || info === null) return;
    this.#expected.delete(packet.firstTick);
    const { gyroScaleRadS, accelScaleMS2 } = info;
    this.#taken.push({ packet, clock, gyroScaleRadS, accelScaleMS2, ticks: [lastTick] });
  };

  /** Samples whose clock will not be known better. @param running the clock that still learns; null: none */
  *release(running: ClockMap | null): Generator<SensorSample, void, void> {
    const isLearning = ({ clock, ticks }: Taken) =>
      clock === running && clockAgeS(clock, ticks[0]!) < CLOCK_WAIT_S;
    const kept = this.#taken.findIndex(isLearning);
    const released = this.#taken.splice(0, kept < 0 ? this.#taken.length : kept);
    for (const taken of released) yield* samplesOf(taken);
  }
}

function* samplesOf({ packet, clock, gyroScaleRadS, accelScaleMS2, ticks }: Taken) {
  for (const [n, tick] of ticks.entries()) {
    const raw = packet.samples.subarray(6 * n, 6 * n + 6);
    yield {
      timeUs: hostTimeUs(clock, tick),
      gyro: scaled(raw, 0, gyroScaleRadS),
      accel: scaled(raw, 3, accelScaleMS2),
      clipped: raw.some((value) => CLIPPED.has(value)),
    };
  }
}

function scaled(raw: Int16Array, at: number, scale: number): [number, number, number] {
  return [raw[at]! * scale, raw[at + 1]! * scale, raw[at + 2]! * scale];
}
