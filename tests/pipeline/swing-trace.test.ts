import { describe, expect, it } from 'vitest';
import { createPipeline, stepPipeline } from '../../src/core/pipeline/pipeline.ts';
import { reviewPipeline, reviewSwings } from '../../src/core/pipeline/review.ts';
import { traceSwing } from '../../src/core/pipeline/swing-trace.ts';
import type { SetEvent } from '../../src/core/recording/set-record.ts';
import { simulatedSet } from './simulated-set.ts';

const { session, records } = simulatedSet({ swings: 3 });

function finished(...events: readonly SetEvent[]) {
  const state = createPipeline(session.description);
  for (const record of records) stepPipeline(state, record);
  for (const event of events) stepPipeline(state, { kind: 'event', hostTimeUs: 1e9, event });
  return state;
}

const scoredOf = (events: readonly SetEvent[]) => reviewPipeline(finished(...events)).swings;

const state = finished();
const trace = traceSwing(state, 1)!;
const reading = reviewSwings(state)[1]!;

describe('the trace of a swing', () => {
  it('shows the reach that review reads, within a millimetre at the nearest instant', () => {
    const { reachBeforeContactM } = reading.curves!;
    const lastUs = trace.firstUs + (trace.reachM.length - 1) * trace.stepUs;
    // Rows of the curve lie 5 ms apart and end at contact; the trace has its own instants.
    const backS = (reading.swing.contactTimeUs - lastUs) / 1e6;
    const row = reachBeforeContactM.length - 1 - backS / 0.005;
    const [below, above] = [Math.floor(row), Math.ceil(row)].map((i) => reachBeforeContactM[i]!);
    expect(trace.reachM.at(-1)!).toBeGreaterThan(Math.min(below!, above!) - 0.001);
    expect(trace.reachM.at(-1)!).toBeLessThan(Math.max(below!, above!) + 0.001);
  });

  it('has directions of unit length whose sum with the lengths is the reach', () => {
    const row = 5;
    const sum = [0, 1, 2].map((i) =>
      trace.lengthsM.reduce(
        (all, length, k) => all + length * trace.directions[3 * k + i]![row]!,
        0,
      ),
    );
    expect(Math.hypot(...sum)).toBeCloseTo(trace.reachM[row]!, 12);
  });

  it('has the ends as found and as moved, and lets both be moved within its data', () => {
    const { found, ends, range } = trace;
    expect(ends).toEqual(found);
    expect(found.contactUs).toBe(reading.swing.contactTimeUs);
    expect(range.firstUs).toBeLessThanOrEqual(found.startUs);
    expect(range.lastUs).toBeGreaterThanOrEqual(found.contactUs);
    const [startsAtUs, endsAtUs] = [found.startUs + 30_000, found.contactUs - 20_000];
    const moved = traceSwing(
      finished({ type: 'ends-moved', contactTimeUs: found.contactUs, startsAtUs, endsAtUs }),
      1,
    )!;
    expect(moved.ends).toEqual({ startUs: startsAtUs, contactUs: endsAtUs });
    expect(moved.found).toEqual(found);
    expect(moved.reachM).toEqual(trace.reachM);
  });

  it('is null where there is no such swing', () => {
    expect(traceSwing(state, 3)).toBeNull();
  });
});

describe('what was said of a swing', () => {
  it('stays with it when its contact is moved far, and can be taken back by the contact as found', () => {
    const { found } = trace;
    const contactTimeUs = found.contactUs;
    const said: readonly SetEvent[] = [
      { type: 'score', contactTimeUs, points: 3 },
      { type: 'discarded', contactTimeUs },
      {
        type: 'ends-moved',
        contactTimeUs,
        startsAtUs: found.startUs,
        endsAtUs: found.startUs + 60_000,
      },
    ];
    const [, moved] = scoredOf(said);
    expect(moved!.foundContactUs).toBe(contactTimeUs);
    expect(moved!.swing.contactTimeUs).toBe(found.startUs + 60_000);
    expect([moved!.points, moved!.discarded, moved!.endsMoved]).toEqual([3, true, true]);
    const [, taken] = scoredOf([...said, { type: 'discard-withdrawn', contactTimeUs }]);
    expect(taken!.discarded).toBe(false);
  });
});
