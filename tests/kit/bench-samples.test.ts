import { describe, expect, it } from 'vitest';
import {
  benchRecording,
  benchSeconds,
  createBenchSamples,
  takeInfo,
  takeNotification,
} from '../../src/core/kit/bench-samples.ts';
import { encodeSensorInfo } from '../../src/core/packets/sensor-info.ts';
import { encodeStreamPacket } from '../../src/core/packets/stream-packet.ts';
import { benchHardware } from '../../src/core/simulator/bench-hardware.ts';
import type { MadePacket } from '../../src/core/simulator/sample-stream.ts';
import { SWINGING_RACKET, simulateSwings } from '../../src/core/simulator/swinging-implement.ts';
import { madePackets } from './made-packets.ts';

const SERIAL = '0123456789abcdef';
const truth = simulateSwings({ ...SWINGING_RACKET, lastsS: 3 });
const sent = madePackets(benchHardware(truth, SERIAL));
const info = encodeSensorInfo(benchHardware(truth, SERIAL).info);

function read(packets: readonly MadePacket[], tickOffset = 0) {
  const samples = createBenchSamples();
  takeInfo(samples, info);
  for (const { packet } of packets) {
    const firstTick = (packet.firstTick + tickOffset) % 2 ** 32;
    takeNotification(samples, encodeStreamPacket({ ...packet, firstTick }));
  }
  return samples;
}

describe('bench samples', () => {
  it('come back from bytes as they were, to half a step of the range', () => {
    const recording = benchRecording(read(sent))!;
    expect(recording.timeS.length).toBe(truth.timeS.length);
    for (const triad of ['gyro', 'accel'] as const) {
      const range = triad === 'gyro' ? truth.gyroRangeRadS : truth.accelRangeMS2;
      for (const axis of ['x', 'y', 'z'] as const) {
        const off = recording[triad][axis].map((v, i) => Math.abs(v - truth[triad][axis][i]!));
        expect(Math.max(...off)).toBeLessThan((0.51 * range) / 32768);
      }
    }
    expect(Math.max(...recording.timeS.map((t, i) => Math.abs(t - truth.timeS[i]!)))).toBeLessThan(
      2e-6,
    );
  });

  it('stand in order although some were sent again, twice, and the ticks wrapped', () => {
    const shuffled = [...sent.slice(0, 20), ...sent.slice(22), sent[21]!, sent[20]!, sent[20]!];
    const wrapping = benchRecording(read(shuffled, 2 ** 32 - 1e6))!;
    expect(wrapping).toEqual(benchRecording(read(sent)));
  });

  it('leave out what was lost', () => {
    const recording = benchRecording(read(sent.filter((_, k) => k !== 10)))!;
    expect(recording.timeS.length).toBe(truth.timeS.length - 10);
    expect(recording.timeS[100]! - recording.timeS[99]!).toBeCloseTo(0.055, 5);
  });

  it('begin anew when the sensor was switched off and on, or is another one', () => {
    const samples = read(sent);
    takeNotification(samples, encodeStreamPacket({ ...sent[0]!.packet, firstTick: 3e9 }));
    expect(benchSeconds(samples)).toBeCloseTo(0.045, 5);
    takeInfo(samples, encodeSensorInfo(benchHardware(truth, '00000000000000ff').info));
    expect(benchRecording(samples)).toBeNull();
  });

  it('keep the end alone when asked to', () => {
    const recording = benchRecording(read(sent), 1)!;
    expect(recording.timeS.at(-1)).toBeGreaterThan(0.9);
    expect(recording.timeS.at(-1)).toBeLessThan(1.1);
  });

  it('are nothing before the sensor has said who it is, or from damaged bytes', () => {
    const samples = createBenchSamples();
    takeNotification(samples, encodeStreamPacket(sent[0]!.packet));
    expect(benchSeconds(samples)).toBe(0);
    takeInfo(samples, info);
    takeNotification(samples, new Uint8Array(20));
    expect(benchRecording(samples)).toBeNull();
  });
});
