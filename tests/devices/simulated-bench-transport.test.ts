import { afterEach, beforeEach, expect, it, vi } from 'vitest';
import {
  benchRecording,
  createBenchSamples,
  takeInfo,
  takeNotification,
} from '../../src/core/kit/bench-samples.ts';
import type { SetRecord } from '../../src/core/recording/set-record.ts';
import { SWINGING_RACKET, simulateSwings } from '../../src/core/simulator/swinging-implement.ts';
import { createSimulatedBenchTransport } from '../../src/devices/simulated-bench-transport.ts';
import { turn } from './simulated-ticks.ts';

beforeEach(
  () => void vi.useFakeTimers({ toFake: ['setInterval', 'clearInterval', 'performance'] }),
);
afterEach(() => void vi.useRealTimers());

it('a simulated sensor at the bench sends its recording as bytes, over a link', async () => {
  const recording = simulateSwings({ ...SWINGING_RACKET, lastsS: 4 });
  const serial = '51a000000000be00';
  const transport = createSimulatedBenchTransport({ recording, serial, speed: 4 });
  const records: SetRecord[] = [];
  const states: string[] = [];
  transport.records$.subscribe((record) => records.push(record));
  transport.connections$.subscribe(({ implement }) => states.push(implement.state));
  transport.startTimeline();
  void transport.connect('implement');
  while (transport.nowUs() < 5e6) await turn(transport, 1);

  expect([...new Set(states)].slice(0, 3)).toEqual(['absent', 'connecting', 'streaming']);
  const samples = createBenchSamples();
  for (const record of records) {
    if (record.kind === 'sensor-info') takeInfo(samples, record.bytes);
    else if (record.kind === 'notification') takeNotification(samples, record.bytes);
  }
  expect(samples.info?.serial).toBe(serial);
  const heard = benchRecording(samples)!;
  // what was measured while the link was being made is not sent
  expect(heard.timeS.at(-1)).toBeGreaterThan(3.5);
  const { x } = recording.gyro;
  expect(Math.abs(heard.gyro.x.at(-1)! - x.at(-1)!)).toBeLessThan(1e-3);
});
