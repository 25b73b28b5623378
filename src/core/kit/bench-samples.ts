import type { BenchRecording } from '../calibration/bench-recording.ts';
import { unwrapTick } from '../clocks/tick-unwrap.ts';
import { RAD_PER_DEG, STANDARD_GRAVITY } from '../maths/angles.ts';
import { decodeSensorInfo, type SensorInfo } from '../packets/sensor-info.ts';
import { decodeStreamPacket, type StreamPacket } from '../packets/stream-packet.ts';

/** One sensor's packets at the bench, as they arrive. Plain data. */
export interface BenchSamples {
  /** null until the sensor has said who it is. */
  info: SensorInfo | null;
  readonly packets: UnwrappedPacket[];
  lastTick: number;
}

interface UnwrappedPacket {
  /** Tick of its first sample, unwrapped. */
  readonly tick: number;
  readonly packet: StreamPacket;
}

/** A tick this far from the last one is not late: the sensor was switched off and on, s. */
const RESTART_S = 60;
const VALUES = 6;

/** Nothing yet. */
export function createBenchSamples(): BenchSamples {
  return { info: null, packets: [], lastTick: Number.NaN };
}

/**
 * Takes in what the link read from the sensor's *info*: another sensor, or other ranges, begin anew.
 * Bytes that do not decode are left out; the link has said so already.
 */
export function takeInfo(samples: BenchSamples, bytes: Uint8Array): void {
  const decoded = decodeSensorInfo(bytes);
  if (!decoded.ok) return;
  const isSame = JSON.stringify(decoded.info) === JSON.stringify(samples.info);
  if (!isSame) samples.packets.length = 0;
  samples.info = decoded.info;
}

/** Takes in one notification; without information before it, or damaged, it is left out. */
export function takeNotification(samples: BenchSamples, bytes: Uint8Array): void {
  const decoded = decodeStreamPacket(bytes);
  if (!decoded.ok || samples.info === null) return;
  const { packet } = decoded;
  const isFirst = samples.packets.length === 0;
  const tick = isFirst ? packet.firstTick : unwrapTick(samples.lastTick, packet.firstTick);
  const restarted = Math.abs(tick - samples.lastTick) > RESTART_S * samples.info.tickHz;
  if (!isFirst && restarted) samples.packets.length = 0;
  samples.lastTick = Math.max(restarted || isFirst ? tick : samples.lastTick, tick);
  // nearly always the last place; what was sent again goes where it belongs
  let place = samples.packets.length;
  while (place > 0 && samples.packets[place - 1]!.tick > tick) place--;
  if (samples.packets[place - 1]?.tick !== tick) samples.packets.splice(place, 0, { tick, packet });
}

/** From the first to the last sample, s. */
export function benchSeconds({ info, packets }: BenchSamples): number {
  const last = packets.at(-1);
  if (info === null || last === undefined) return 0;
  return (last.tick + last.packet.spanTicks - packets[0]!.tick) / info.tickHz;
}

/**
 * What has come so far as columns, lost samples left out.
 * @param lastS only so many seconds at the end; all of it unless said
 * @returns null before there is a sample
 */
export function benchRecording(
  samples: BenchSamples,
  lastS = Number.POSITIVE_INFINITY,
): BenchRecording | null {
  const { info } = samples;
  if (info === null || samples.packets.length === 0) return null;
  const fromTick = samples.lastTick - lastS * info.tickHz;
  const packets = samples.packets.filter(({ tick }) => tick >= fromTick);
  const count = packets.reduce((sum, { packet }) => sum + packet.samples.length / VALUES, 0);
  const column = () => new Float64Array(count);
  const timeS = column();
  const columns = Array.from({ length: VALUES }, column);
  const zeroTick = packets[0]!.tick;
  let at = 0;
  for (const { tick, packet } of packets) {
    const inPacket = packet.samples.length / VALUES;
    for (let i = 0; i < inPacket; i++, at++) {
      const part = inPacket === 1 ? 0 : i / (inPacket - 1);
      timeS[at] = (tick - zeroTick + part * packet.spanTicks) / info.tickHz;
      for (let k = 0; k < VALUES; k++) {
        const scale = k < 3 ? info.gyroScaleRadS : info.accelScaleMS2;
        columns[k]![at] = scale * packet.samples[VALUES * i + k]!;
      }
    }
  }
  const [gx, gy, gz, ax, ay, az] = columns as [
    Float64Array,
    Float64Array,
    Float64Array,
    Float64Array,
    Float64Array,
    Float64Array,
  ];
  return {
    timeS,
    gyro: { x: gx, y: gy, z: gz },
    accel: { x: ax, y: ay, z: az },
    gyroRangeRadS: info.gyroRangeDegS * RAD_PER_DEG,
    accelRangeMS2: info.accelRangeG * STANDARD_GRAVITY,
  };
}
