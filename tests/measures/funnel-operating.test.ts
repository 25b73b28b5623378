import { describe, expect, it } from 'vitest';
import { measureFunnel } from '../../src/core/measures/measure-funnel.ts';
import { PLAYERS, virtualSet } from './virtual-players.ts';

/**
 * How often the verdict is right and wrong, by simulation with virtual players; print-operating.ts beside does
 * more of it. 200 sets of 10 swings, 100 of 20 and of 40, and 200 resamples instead of 2000: the standard error
 * of a rate of 5 % is 1.5 or 2.2 %, of 50 % it is 3.5 or 5 %.
 */
const RESAMPLES = 200;

/** Share of sets in which narrowing is shown. */
function shownRate(player: keyof typeof PLAYERS, n: number): number {
  const sets = n === 10 ? 200 : 100;
  let shown = 0;
  for (let set = 0; set < sets; set++) {
    const swings = virtualSet(PLAYERS[player], n, 1000 * n + set);
    if (measureFunnel(swings, { seed: set, resamples: RESAMPLES }).verdict.isShown) shown++;
  }
  return shown / sets;
}

describe('verdict of the funnel', () => {
  const notControlled = [
    'ballistic',
    'ballistic, arm straightens',
    'tempo and contact',
    'noise alone',
  ] as const;
  const cases = notControlled.flatMap((player) => [10, 20, 40].map((n) => [player, n] as const));
  it.each(cases)(
    'is wrong at most once in twenty: %s, n = %i',
    { timeout: 60_000 },
    (player, n) => {
      expect(shownRate(player, n)).toBeLessThanOrEqual(0.05);
    },
  );

  // Lower bounds two standard errors below what 400 sets of 400 resamples gave: 34 %, 70 %, 94 %.
  it.each([
    [10, 0.27],
    [20, 0.6],
    [40, 0.89],
  ])('recognises a controlled player with %i swings', { timeout: 60_000 }, (n, least) => {
    expect(shownRate('controlled', n)).toBeGreaterThanOrEqual(least);
  });
});
