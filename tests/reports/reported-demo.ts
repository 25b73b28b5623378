import type { ReviewedMeasures } from '../../src/core/measures/measure-set.ts';
import { measureReviewed, reviewPipeline } from '../../src/core/pipeline/review.ts';
import type { ReportedSet } from '../../src/reports/reported-set.ts';
import { finishedState } from '../exports/demo-set.ts';
import { describedSet } from '../recording/described-set.ts';

/** A simulated set of one kit as reports get it; fewer resamples than usual, since only the words are looked at. */
export function reportedDemo(): ReportedSet {
  const set = describedSet(
    { seed: 4, swings: 12, swingIntervalS: 5 },
    { setId: 'reported', startedAtMs: Date.UTC(2026, 0, 10, 12), player: 'Heron' },
  );
  const state = finishedState(set);
  const measures: ReviewedMeasures = Object.assign(
    {},
    ...measureReviewed(state, { seed: 1, resamples: 200 }),
  );
  return {
    description: set.description,
    view: reviewPipeline(state),
    conditions: [[0]],
    blocks: [0],
    measures,
    kits: null,
  };
}

/** An estimate by hand. */
export function estimate(value: number, low: number, high: number, n: number) {
  return { value, low, high, n, level: 0.95 };
}
