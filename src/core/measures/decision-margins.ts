import { normalQuantile } from '../statistics/distributions.ts';
import { type Estimate, isUnavailable, type Unavailable } from '../statistics/estimate.ts';
import type { ComparedMeasure } from './comparison.ts';
import type { Kit } from './comparison-measure.ts';
import { COMPARED, DECISION } from './comparison-words.ts';

/** What the larger kit must be no worse in to count as equal; the score guards every change. */
export const GUARDS = ['score', 'spread', 'feedback'] as const;
export type Guard = (typeof GUARDS)[number];

const { limits: LIMITS } = DECISION;

/** How much worse is still "no worse", on the scale of {@link advantageOf}. @param accurateFrom points of an accurate ball */
export function margin(guard: Guard, accurateFrom: number): number {
  switch (guard) {
    case 'score':
      return LIMITS.scoreMargin * accurateFrom;
    case 'spread':
      return Math.log(LIMITS.spreadMargin);
    case 'feedback':
      return Math.log(LIMITS.feedbackMargin);
  }
}

/**
 * How much better one kit is by a measure: its difference, or the logarithm of its ratio, positive where that kit has
 * the favourable side.
 * @returns level and n as those of the contrast; null for a measure of which neither direction is better
 */
export function advantageOf(
  { name, contrast }: ComparedMeasure,
  kit: Kit,
): Estimate | Unavailable | null {
  const { scale, favourable } = COMPARED[name];
  if (favourable === 'neither') return null;
  if (isUnavailable(contrast)) return contrast;
  const to = scale === 'ratio' ? Math.log : (x: number) => x;
  const [value, low, high] = [to(contrast.value), to(contrast.low), to(contrast.high)];
  return (favourable === 'higher') === (kit === 'smaller')
    ? { ...contrast, value, low, high }
    : { ...contrast, value: -value, low: -high, high: -low };
}

/** Is a kit shown to be worse by less than the margin: does the whole interval lie on the near side? */
export function isNoWorse(measure: ComparedMeasure, kit: Kit, marginOf: number): boolean {
  const advantage = advantageOf(measure, kit);
  return advantage !== null && !isUnavailable(advantage) && advantage.low > -marginOf;
}

/** Standard error on the side that matters for "more than": from the lower end of the interval. */
export function lowerStandardError({ value, low, level }: Estimate): number {
  return (value - low) / normalQuantile((1 + level) / 2);
}
