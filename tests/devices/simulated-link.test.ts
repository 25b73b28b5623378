import { describe, expect, it } from 'vitest';
import type { Segment } from '../../src/core/arm/segments.ts';
import { decodeStreamPacket } from '../../src/core/packets/stream-packet.ts';
import { createPipeline, stepPipeline, viewPipeline } from '../../src/core/pipeline/pipeline.ts';
import type { SetRecord } from '../../src/core/recording/set-record.ts';
import { runSimulatedLink } from './simulated-link.ts';

/** Sequences of one sensor as recorded, in order of arrival. */
function sequences(records: readonly SetRecord[], segment: Segment): number[] {
  return records.flatMap((record) => {
    if (record.kind !== 'notification' || record.segment !== segment) return [];
    const decoded = decodeStreamPacket(record.bytes);
    return decoded.ok ? [decoded.packet.sequence] : [];
  });
}

/** Whether sequences, put in order, run without gap and without repeat. */
function isComplete(unordered: readonly number[]): boolean {
  const first = unordered[0]!;
  const steps = unordered.map((s) => (s - first) & 0xffff).sort((a, b) => a - b);
  return steps.every((step, i) => step === i);
}

function view(run: Awaited<ReturnType<typeof runSimulatedLink>>) {
  const state = createPipeline(run.session.description);
  for (const record of run.records) stepPipeline(state, record);
  return viewPipeline(state);
}

const SEGMENT_NAMES = ['upperArm', 'forearm', 'implement'] as const;

describe('sensors over simulated links', () => {
  it('stream every packet once when nothing is lost, pings beside', async () => {
    const run = await runSimulatedLink({}, 40);
    for (const segment of SEGMENT_NAMES) {
      const all = sequences(run.records, segment);
      expect(all.length).toBeGreaterThan(760);
      expect(isComplete(all)).toBe(true);
    }
    const pings = run.records.filter((r) => r.kind === 'event' && r.event.type === 'clock-ping');
    expect(pings.length).toBeGreaterThan(3 * 10);
    expect(view(run).sensors.forearm.clockHalfWidthMs).toBeLessThan(30);
    // Least radio delay of the simulated link: 5 ms; pings leave a few milliseconds open.
    expect(Math.abs(view(run).sensors.forearm.leastDelayMs - 5)).toBeLessThan(4);
  });

  it('lose nothing when 5 % are withheld and one link is down for 8 s', async () => {
    const run = await runSimulatedLink({ lossFraction: 0.05, dropout: { atS: 19, lastsS: 8 } }, 48);
    for (const segment of SEGMENT_NAMES) {
      // the last second may still be on its way
      const all = sequences(run.records, segment).slice(0, -25);
      const first = sequences(run.records, segment)[0]!;
      const contiguous = all.map((s) => (s - first) & 0xffff).sort((a, b) => a - b);
      const holes = contiguous.filter((step, i) => i > 0 && step !== contiguous[i - 1]! + 1);
      expect(holes.filter((step) => step < contiguous.length - 40)).toEqual([]);
      expect(new Set(all).size).toBe(all.length);
    }
    expect(
      run.records.filter((r) => r.kind === 'event' && r.event.type === 'packets-lost'),
    ).toEqual([]);
    const { swings, sensors } = view(run);
    expect(sensors.forearm.lostPackets).toBe(0);
    expect(swings.length).toBeGreaterThanOrEqual(6);
    expect(swings.map((s) => s.swing.voidReason).every((reason) => reason === null)).toBe(true);
    const words = run.states.map((state) => state.state);
    expect(words).toContain('lost');
    expect(words.at(-1)).toBe('streaming');
  });

  it('mark the gap when a link is down for longer than the ring lasts', async () => {
    const run = await runSimulatedLink({ dropout: { atS: 19, lastsS: 20 } }, 52);
    const lost = run.records.flatMap((r) =>
      r.kind === 'event' && r.event.type === 'packets-lost' ? [r.event] : [],
    );
    const count = lost.reduce((sum, event) => sum + event.count, 0);
    // 20 s of 20 packets a second less the ring of 240, and what passed while the link was remade
    expect(count).toBeGreaterThan(140);
    expect(count).toBeLessThan(260);
    const { swings } = view(run);
    const reasons = swings.map((s) => s.swing.voidReason);
    expect(reasons).toContain('sensor-gap');
    expect(reasons[0]).toBeNull();
    expect(reasons.at(-1)).toBeNull();
  });
});
