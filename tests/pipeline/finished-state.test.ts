import { describe, expect, it } from 'vitest';
import { finishedState } from '../../src/core/pipeline/finished-state.ts';
import { createPipeline, stepPipeline } from '../../src/core/pipeline/pipeline.ts';
import { measureReviewed, reviewPipeline } from '../../src/core/pipeline/review.ts';
import type { SetEvent } from '../../src/core/recording/set-record.ts';
import { simulatedSet } from './simulated-set.ts';

const { session, records } = simulatedSet({ swings: 10 });
const whole = createPipeline(session.description);
for (const record of records) stepPipeline(whole, record);
const kept = structuredClone(finishedState(whole));
const OPTIONS = { seed: 1, resamples: 100 };

describe('the state of a finished set', () => {
  it('gives the same review and measures bit for bit, after a copy too', () => {
    expect(reviewPipeline(kept)).toEqual(reviewPipeline(whole));
    expect([...measureReviewed(kept, OPTIONS)]).toEqual([...measureReviewed(whole, OPTIONS)]);
  });

  it('takes later events as the whole one does', () => {
    const { contactTimeUs } = whole.swings[2]!.reading.swing;
    const events: readonly SetEvent[] = [
      { type: 'discarded', contactTimeUs, reason: 'net' },
      { type: 'score', contactTimeUs: whole.swings[3]!.reading.swing.contactTimeUs, points: 4 },
      {
        type: 'ends-moved',
        contactTimeUs: whole.swings[4]!.reading.swing.contactTimeUs,
        startsAtUs: whole.swings[4]!.reading.swing.startTimeUs,
        endsAtUs: whole.swings[4]!.reading.swing.contactTimeUs - 10_000,
      },
    ];
    for (const event of events) {
      stepPipeline(kept, { kind: 'event', hostTimeUs: 1e9, event });
      stepPipeline(whole, { kind: 'event', hostTimeUs: 1e9, event });
    }
    const review = reviewPipeline(kept);
    expect(review).toEqual(reviewPipeline(whole));
    expect(review.swings[2]!.discardReason).toBe('net');
  });

  it('is small: a few kilobytes a swing, not the minutes of samples', () => {
    const bytes = (value: unknown): number => {
      if (ArrayBuffer.isView(value)) return value.byteLength;
      if (typeof value !== 'object' || value === null) return 8;
      return Object.values(value).reduce((sum: number, part) => sum + bytes(part), 0);
    };
    expect(bytes(kept) / whole.swings.length).toBeLessThan(60_000);
  });
});
