import { expect, it } from 'vitest';
import type { ReviewedMeasures } from '../../src/core/measures/measure-set.ts';
import { createPipeline, stepPipeline } from '../../src/core/pipeline/pipeline.ts';
import { measureReviewed, reviewPipeline } from '../../src/core/pipeline/review.ts';
import { isUnavailable } from '../../src/core/statistics/estimate.ts';
import { simulatedSet } from './simulated-set.ts';

/** Least-squares slope by its textbook formula. */
function slope(x: readonly number[], y: readonly number[]): number {
  const mean = (values: readonly number[]) => values.reduce((a, b) => a + b, 0) / values.length;
  const [mx, my] = [mean(x), mean(y)];
  const products = x.reduce((sum, value, i) => sum + (value - mx) * (y[i]! - my), 0);
  return products / x.reduce((sum, value) => sum + (value - mx) ** 2, 0);
}

it('the order of a reviewed set leaves out a discarded swing and keeps its place', () => {
  const { session, records } = simulatedSet({ swings: 12 });
  const state = createPipeline(session.description);
  for (const record of records) stepPipeline(state, record);
  const contactTimeUs = state.swings[2]!.cut.contact.timeUs;
  const event = { type: 'discarded', contactTimeUs } as const;
  stepPipeline(state, { kind: 'event', hostTimeUs: 1e9, event });
  const measures: Partial<ReviewedMeasures> = Object.assign(
    {},
    ...measureReviewed(state, { seed: 1, resamples: 200 }),
  );
  const { perSwing } = measures.order!.reach;
  if (isUnavailable(perSwing)) throw new Error(perSwing.reason);
  const counted = reviewPipeline(state).swings.filter(
    ({ discarded, swing }) => !discarded && swing.voidReason === null,
  );
  expect(counted).toHaveLength(11);
  const wanted = slope(
    counted.map(({ swing }) => swing.index),
    counted.map(({ swing }) => swing.reachM),
  );
  expect(perSwing.value).toBeCloseTo(wanted, 12);
}, 30_000);
