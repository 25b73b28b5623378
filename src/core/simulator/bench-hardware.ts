import { type BenchRecording, columnsOf } from '../calibration/bench-recording.ts';
import { DEG_PER_RAD, STANDARD_GRAVITY } from '../maths/angles.ts';
import type { SensorInfo } from '../packets/sensor-info.ts';
import type { MadePacket } from './sample-stream.ts';
import type { FirmwareHardware } from './virtual-firmware.ts';

const TICK_HZ = 1_000_000;
/** Twenty packets a second at 200 Hz. */
const PER_PACKET = 10;
/** What firmware keeps for sending again: 10 s. */
const RESEND_PACKETS = 200;

/**
 * A simulated sensor that plays a recording of its samples, as bytes, and is silent after it.
 * @param recording of an even rate @param serial 16 lower-case hex digits
 */
export function benchHardware(recording: BenchRecording, serial: string): FirmwareHardware {
  const { timeS } = recording;
  const rateHz = Math.round((timeS.length - 1) / (timeS.at(-1)! - timeS[0]!));
  const info: SensorInfo = {
    protocolVersion: 1,
    serial,
    firmwareVersion: '1.0.0',
    tickHz: TICK_HZ,
    rateHz,
    supportedRatesHz: [rateHz],
    gyroRangeDegS: Math.round(recording.gyroRangeRadS * DEG_PER_RAD),
    accelRangeG: Math.round(recording.accelRangeMS2 / STANDARD_GRAVITY),
    gyroScaleRadS: Math.fround(recording.gyroRangeRadS / 32768),
    accelScaleMS2: Math.fround(recording.accelRangeMS2 / 32768),
    resendPackets: RESEND_PACKETS,
    magnetometerScaleT: null,
  };
  return {
    info,
    packets: packetsOf(recording, info),
    tickAt: (trueUs) => Math.floor((trueUs / 1e6) * TICK_HZ),
  };
}

function* packetsOf(
  { timeS, gyro, accel }: BenchRecording,
  info: SensorInfo,
): Generator<MadePacket, void, void> {
  const columns = [...columnsOf(gyro), ...columnsOf(accel)];
  const tick = (index: number) => Math.round(timeS[index]! * TICK_HZ);
  for (let first = 0, sequence = 0; first + PER_PACKET <= timeS.length; first += PER_PACKET) {
    const last = first + PER_PACKET - 1;
    const samples = new Int16Array(columns.length * PER_PACKET);
    samples.forEach((_, at) => {
      const column = at % columns.length;
      const scale = column < 3 ? info.gyroScaleRadS : info.accelScaleMS2;
      const value = columns[column]![first + Math.floor(at / columns.length)]!;
      samples[at] = Math.min(32767, Math.max(-32768, Math.round(value / scale)));
    });
    yield {
      madeUs: timeS[last]! * 1e6,
      packet: {
        clipped: false,
        dropped: false,
        resent: false,
        sequence: sequence & 0xffff,
        firstTick: tick(first) % 2 ** 32,
        spanTicks: tick(last) - tick(first),
        samples,
        magnetometer: null,
      },
    };
    sequence++;
  }
}
