import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import type { PerSegment } from '../../src/core/arm/segments.ts';
import type { SetRecord } from '../../src/core/recording/set-record.ts';
import { DEFAULT_ERRORS } from '../../src/core/simulator/sensor-errors.ts';
import { sessionOptions } from '../../src/devices/simulated-player.ts';
import { createSimulatedTransport } from '../../src/devices/simulated-transport.ts';
import type { ConnectionState } from '../../src/devices/transport.ts';
import { turn } from './simulated-ticks.ts';

// Only timers and clock are faked: what the simulation itself waits for stays real.
beforeEach(
  () => void vi.useFakeTimers({ toFake: ['setInterval', 'clearInterval', 'performance'] }),
);
afterEach(() => void vi.useRealTimers());

const head = { setId: 's', startedAtMs: 0, programVersion: 'test' };

/** Records of a simulated set up to a host time, with time cut into ticks of `tickMs`. */
async function play(seed: number, speed: number, tickMs: number, untilUs: number) {
  const player = { strategy: 'distal', implement: 'full', ball: 'standard' } as const;
  const options = sessionOptions(player, seed);
  const transport = createSimulatedTransport({
    options: {
      ...options,
      errors: { ...DEFAULT_ERRORS, lossFraction: 0.05, dropout: { atS: 3, lastsS: 2 } },
    },
    speed,
    head,
  });
  const records: SetRecord[] = [];
  const states: PerSegment<ConnectionState>[] = [];
  transport.records$.subscribe((record) => records.push(record));
  transport.connections$.subscribe((all) => states.push(all));
  transport.startTimeline();
  while (transport.nowUs() < untilUs) await turn(transport, 1, tickMs);
  return { transport, records, states };
}

function asText(records: readonly SetRecord[], untilUs: number): string[] {
  return records
    .filter((record) => record.hostTimeUs < untilUs)
    .map((record) =>
      record.kind === 'event'
        ? `${record.hostTimeUs} ${JSON.stringify(record.event)}`
        : `${record.hostTimeUs} ${record.segment} ${Buffer.from(record.bytes).toString('hex')}`,
    );
}

describe('the simulated transport', () => {
  it('records the same bytes at the same times for one seed, however time is cut and sped up', async () => {
    const untilUs = 8e6;
    const slow = asText((await play(7, 1, 16, untilUs + 1e6)).records, untilUs);
    const quick = asText((await play(7, 20, 48, untilUs + 1e6)).records, untilUs);
    expect(slow.length).toBeGreaterThan(3 * 20 * 7);
    expect(quick).toEqual(slow);
    const other = asText((await play(8, 20, 48, untilUs + 1e6)).records, untilUs);
    expect(other).not.toEqual(slow);
  }, 30_000);

  it('has sensors that keep ten seconds and more, are lost and come back', async () => {
    const { records, states } = await play(7, 20, 48, 10e6);
    const info = records.find((record) => record.kind === 'sensor-info');
    const ring = info?.kind === 'sensor-info' ? info.bytes[48]! + 256 * info.bytes[49]! : 0;
    // 20 packets a second, the rate up to 2 % off
    expect(ring).toBeGreaterThanOrEqual(10 * 20 * 1.02);
    expect(states.map((all) => all.forearm.state)).toContain('lost');
    expect(states.at(-1)?.forearm.state).toBe('streaming');
  });

  it('lets the coach let a sensor go and fetch it back', async () => {
    const { transport, states } = await play(7, 20, 48, 1e6);
    void transport.forget('implement');
    await turn(transport, 100);
    expect(states.at(-1)?.implement.state).toBe('absent');
    void transport.connect('implement');
    await turn(transport, 100);
    expect(states.at(-1)?.implement.state).toBe('streaming');
  });
});
