import { compareConditions } from '../../src/core/measures/comparison.ts';
import type { TwoConditions } from '../../src/core/measures/comparison-measure.ts';
import { summariseFunnel } from '../../src/core/measures/funnel.ts';
import type { MeasuredSwing } from '../../src/core/measures/measured-swing.ts';
import { contactReach, funnelBand } from '../../src/core/measures/reach-at-contact.ts';
import { reachInPercent } from '../../src/core/measures/reach-table.ts';
import type { Compared, PlayedSet } from '../../src/screens/side-by-side/worker-words.ts';

type Kit = 'short' | 'full';

/** A set as the worker lists it: its conditions in order, each a racket, a ball and how many swings. */
export function playedSet(
  setId: string,
  day: number,
  ...conditions: readonly (readonly [racket: Kit, ball: string, swings: number])[]
): PlayedSet {
  return {
    setId,
    startedAtMs: Date.UTC(2026, 2, day, 10),
    scoreSteps: [10, 5, 0],
    conditions: conditions.map(([racket, ball, swings]) => ({
      implement: `${racket} racket`,
      ball,
      feed: '',
      implementLengthM: racket === 'short' ? 0.45 : 0.55,
      swings,
    })),
    last: conditions.length - 1,
  };
}

/** What the worker would answer for these swings. */
export function comparedOf(sets: TwoConditions, change: Partial<Compared> = {}): Compared {
  const thresholds = { accurateFrom: 10, fairFrom: 5 };
  const sideOf = (swings: readonly MeasuredSwing[]) => ({
    funnel: summariseFunnel(swings),
    band: funnelBand(reachInPercent(swings)),
    reachM: contactReach(swings),
    points: swings.map(({ points }) => points),
  });
  return {
    type: 'compared',
    id: 1,
    comparison: compareConditions(sets, { seed: 1, draws: 199, resamples: 200, thresholds }),
    sides: { smaller: sideOf(sets.smaller), larger: sideOf(sets.larger) },
    isScoredAlike: true,
    ...change,
  };
}
