import type { SensorInfo } from '../../src/core/packets/sensor-info.ts';
import type { MadePacket } from '../../src/core/simulator/sample-stream.ts';
import type { FirmwareHardware } from '../../src/core/simulator/virtual-firmware.ts';

const TICK_HZ = 32_768;
const PACKET_US = 50_000;

/** A part without motion: one sample per packet, 20 packets a second, its clock 40 ppm fast. */
export function plainHardware(
  firstSequence: number,
  packets: number,
  resendPackets = 240,
): FirmwareHardware & { readonly info: SensorInfo } {
  const tickAt = (trueUs: number) => 4e9 + trueUs * 1e-6 * TICK_HZ * (1 + 40e-6);
  function* make(): Generator<MadePacket, void, void> {
    for (let i = 0; i < packets; i++) {
      const madeUs = (i + 1) * PACKET_US;
      yield {
        madeUs,
        packet: {
          clipped: false,
          dropped: false,
          resent: false,
          sequence: (firstSequence + i) & 0xffff,
          firstTick: Math.floor(tickAt(madeUs)) % 2 ** 32,
          spanTicks: 0,
          samples: Int16Array.of(i & 0x7fff, 0, 0, 0, 0, 2048),
          magnetometer: null,
        },
      };
    }
  }
  return {
    info: {
      protocolVersion: 1,
      serial: '0102030405060708',
      firmwareVersion: '1.0.0',
      tickHz: TICK_HZ,
      rateHz: 200,
      supportedRatesHz: [200],
      gyroRangeDegS: 2000,
      accelRangeG: 16,
      gyroScaleRadS: 0.001,
      accelScaleMS2: 0.005,
      resendPackets,
      magnetometerScaleT: null,
    },
    packets: make(),
    tickAt,
  };
}
