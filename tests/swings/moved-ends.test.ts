import { describe, expect, it } from 'vitest';
import { createPipeline, stepPipeline } from '../../src/core/pipeline/pipeline.ts';
import { reviewPipeline, reviewSwings } from '../../src/core/pipeline/review.ts';
import type { SetEvent } from '../../src/core/recording/set-record.ts';
import { endsRange } from '../../src/core/swings/moved-ends.ts';
import { simulatedSet } from '../pipeline/simulated-set.ts';

const { session, records } = simulatedSet({ swings: 3 });

function reviewed(...events: readonly SetEvent[]) {
  const state = createPipeline(session.description);
  for (const record of records) stepPipeline(state, record);
  for (const event of events) stepPipeline(state, { kind: 'event', hostTimeUs: 1e9, event });
  return { state, readings: reviewSwings(state), view: reviewPipeline(state) };
}

const found = reviewed();
const second = found.readings[1]!;
const { contactTimeUs, startTimeUs } = second.swing;
const moved = (startsAtUs: number, endsAtUs: number): SetEvent => ({
  type: 'ends-moved',
  contactTimeUs,
  startsAtUs,
  endsAtUs,
});

// No outside reference: the curve read without the edit says what the reach was earlier.
describe('the ends of a swing moved by hand', () => {
  it('read the reach of the instant given, to a millimetre, and the start given', () => {
    const { readings, view } = reviewed(moved(startTimeUs + 40_000, contactTimeUs - 20_000));
    const { swing, curves } = readings[1]!;
    expect(swing.contactTimeUs).toBe(contactTimeUs - 20_000);
    expect(swing.startTimeUs).toBe(startTimeUs + 40_000);
    // 20 ms before contact is four rows of 5 ms before the last
    const then = second.curves!.reachBeforeContactM.at(-5)!;
    expect(Math.abs(swing.reachM - then)).toBeLessThan(0.001);
    expect(curves!.reachCurveM.at(-1)).toBe(swing.reachM);
    expect(view.swings.map((s) => s.endsMoved)).toEqual([false, true, false]);
  });

  it('leave the other swings as they were, and what was seen live', () => {
    const { state, readings } = reviewed(moved(startTimeUs, contactTimeUs - 20_000));
    expect(readings[0]).toEqual(found.readings[0]);
    expect(readings[2]).toEqual(found.readings[2]);
    expect(state.swings[1]!.reading).toEqual(found.state.swings[1]!.reading);
  });

  it('go as far as there are data, and not further', () => {
    const range = endsRange(found.state.swings[1]!.cut)!;
    const { swing } = reviewed(moved(0, 1e12)).readings[1]!;
    expect(swing.startTimeUs).toBe(range.firstUs);
    expect(swing.contactTimeUs).toBe(range.lastUs);
    expect(Number.isFinite(swing.reachM)).toBe(true);
    const crossed = reviewed(moved(contactTimeUs, startTimeUs)).readings[1]!.swing;
    expect(crossed.contactTimeUs - crossed.startTimeUs).toBeGreaterThanOrEqual(40_000);
    expect(Number.isFinite(crossed.reachM)).toBe(true);
  });

  it('come back when that is taken back', () => {
    const { readings } = reviewed(moved(startTimeUs, contactTimeUs - 20_000), {
      type: 'ends-restored',
      contactTimeUs,
    });
    expect(readings).toEqual(found.readings);
  });

  it('rescue a swing whose start was not found', () => {
    const state = createPipeline(session.description);
    for (const record of records) stepPipeline(state, record);
    const entry = state.swings[1]!;
    const lost = { ...entry, cut: { ...entry.cut, fault: 'no-forward-swing' as const } };
    state.swings[1] = lost;
    expect(reviewSwings(state)[1]!.swing.voidReason).toBe('no-forward-swing');
    const event = moved(startTimeUs, contactTimeUs);
    stepPipeline(state, { kind: 'event', hostTimeUs: 1e9, event });
    const { swing } = reviewSwings(state)[1]!;
    expect(swing.voidReason).toBeNull();
    expect(Math.abs(swing.reachM - second.swing.reachM)).toBeLessThan(0.001);
  });
});
