import { expect, it } from 'vitest';
import { decodeSensorInfo } from '../../src/core/packets/sensor-info.ts';
import { decodeStreamPacket, encodeStreamPacket } from '../../src/core/packets/stream-packet.ts';
import { createPipeline, stepPipeline, viewPipeline } from '../../src/core/pipeline/pipeline.ts';
import type { SetRecord } from '../../src/core/recording/set-record.ts';
import { simulatedSet } from './simulated-set.ts';

/** The 32-bit ticks of a sensor at 1 MHz tell where they are within 35 minutes. */
const PAUSE_US = 1.8e9;
const { session, records } = simulatedSet({ swings: 8 });
/** A second after the fourth swing. */
const pauseUs = session.truth.swings[3]!.contactTimeUs + 1e6;

/** The same set with half an hour in its middle in which nobody sends; the sensors' clocks run on. */
function* withPause(): Generator<SetRecord, void, void> {
  const tickHz = new Map<string, number>();
  for (const record of records) {
    if (record.kind === 'sensor-info') {
      const decoded = decodeSensorInfo(record.bytes);
      if (!decoded.ok) throw new Error(decoded.fault.message);
      tickHz.set(record.segment, decoded.info.tickHz);
    }
    if (record.hostTimeUs < pauseUs) yield record;
    else if (record.kind === 'event' && record.event.type === 'clock-ping') continue;
    else if (record.kind === 'notification') {
      yield later(record, tickHz.get(record.segment)!);
    } else yield { ...record, hostTimeUs: record.hostTimeUs + PAUSE_US };
  }
}

function later(record: Extract<SetRecord, { kind: 'notification' }>, tickHz: number): SetRecord {
  const decoded = decodeStreamPacket(record.bytes);
  if (!decoded.ok) throw new Error(decoded.fault.message);
  const { packet } = decoded;
  const firstTick = (packet.firstTick + (PAUSE_US / 1e6) * tickHz) % 2 ** 32;
  const bytes = encodeStreamPacket({ ...packet, firstTick });
  return { ...record, hostTimeUs: record.hostTimeUs + PAUSE_US, bytes };
}

// No outside reference: the same set without the pause says what there is to find.
it('half an hour without any sensor is leapt over, and the swings after it are found', () => {
  const state = createPipeline(session.description);
  for (const record of withPause()) stepPipeline(state, record);
  const { swings } = viewPipeline(state);
  expect(swings).toHaveLength(8);
  const contacts = session.truth.swings.map(({ contactTimeUs }) =>
    contactTimeUs > pauseUs ? contactTimeUs + PAUSE_US : contactTimeUs,
  );
  swings.forEach(({ swing }, i) => {
    expect(Math.abs(swing.contactTimeUs - contacts[i]!)).toBeLessThan(200_000);
  });
  expect(swings.slice(0, 4).map(({ swing }) => swing.voidReason)).toEqual([null, null, null, null]);
  // nobody knows where the sensors point after that, until swings have agreed the headings
  expect(swings[4]!.swing.voidReason).toBe('unsettled');
  expect(swings.at(-1)!.swing.voidReason).toBeNull();
  // walked through at 200 Hz the pause alone would be 360 000 instants
  expect(state.arm.timeline.count).toBeLessThan(30_000);
});

it('one absurd time costs no walk through days of nothing', () => {
  const state = createPipeline(session.description);
  const middle = Math.floor(records.length / 2);
  records.forEach((record, i) => {
    const hostTimeUs = record.hostTimeUs + (i === middle ? 96 * PAUSE_US : 0);
    stepPipeline(state, { ...record, hostTimeUs });
  });
  expect(state.arm.timeline.count).toBeLessThan(30_000);
});
