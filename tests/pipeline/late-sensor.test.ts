import { expect, it } from 'vitest';
import { createPipeline, stepPipeline } from '../../src/core/pipeline/pipeline.ts';
import type { SetRecord } from '../../src/core/recording/set-record.ts';
import { simulatedSet } from './simulated-set.ts';

const LATE_US = 10_000;

/** No ping tells that the implement's radio is slower than the others': only the joints can. */
function lagAndSwings(
  records: readonly SetRecord[],
  description: Parameters<typeof createPipeline>[0],
) {
  const state = createPipeline(description);
  for (const record of records) stepPipeline(state, record);
  const read = state.swings.filter(({ reading }) => reading.swing.voidReason === null).length;
  return { read, lagUs: state.arm.lags.appliedUs[2] };
}

it('learns from swings how late the implement is, and reads them all the same', () => {
  const { session, records } = simulatedSet({ seed: 1, swings: 7, implement: 'short' });
  const unpinged = records.filter(
    (record) => record.kind !== 'event' || record.event.type !== 'clock-ping',
  );
  const late = unpinged
    .map((record) =>
      record.kind !== 'event' && record.segment === 'implement'
        ? { ...record, hostTimeUs: record.hostTimeUs + LATE_US }
        : record,
    )
    .sort((a, b) => a.hostTimeUs - b.hostTimeUs);
  const now = lagAndSwings(late, session.description);
  const usual = lagAndSwings(unpinged, session.description);
  expect(Math.abs(now.lagUs - usual.lagUs - LATE_US)).toBeLessThan(1500);
  expect(now.read).toBe(7);
});
