import type { ScoredSwing } from '../../src/core/pipeline/outputs.ts';

/** A swing of the invented player as the court sees it, not yet scored. @param number from 1; one every six seconds */
export function courtSwing(number: number, change: Partial<ScoredSwing> = {}): ScoredSwing {
  const contactTimeUs = 6e6 * number;
  return {
    swing: {
      ...({} as ScoredSwing['swing']),
      index: number - 1,
      contactTimeUs,
      reachM: 0.9,
      voidReason: null,
    },
    foundContactUs: contactTimeUs,
    block: 0,
    points: null,
    discarded: false,
    discardReason: null,
    landingM: null,
    endsMoved: false,
    cued: false,
    ...change,
  };
}

/** The same with a reach of so many metres. */
export function reaching(number: number, reachM: number, block = 0): ScoredSwing {
  const scored = courtSwing(number, { block });
  return { ...scored, swing: { ...scored.swing, reachM } };
}
