import type { ScoredSwing } from '../core/pipeline/outputs.ts';
import type { VoidReason } from '../core/swings/swing.ts';

/** Why a swing has no reach, as part of a sentence. */
export const VOID_WORDS: Readonly<Record<VoidReason, string>> = {
  'not-zeroed': 'the sensors were not zeroed yet',
  unsettled: 'after missing data the sensors had not agreed again',
  swapped: "sensors seemed to sit at each other's places",
  slipped: 'a sensor seemed to have slipped or turned since the poses',
  'sensor-gap': 'a sensor missed samples during the swing',
  'no-forward-swing': 'no forward swing was found before the contact',
  'air-swing': 'an air swing: no ball was met',
};

/** Why swings do not count and how many each, the most frequent first; empty when all do. */
export function leftOutReasons(swings: readonly ScoredSwing[]): string[] {
  const counts = new Map<string, number>();
  for (const { swing, discarded } of swings) {
    if (swing.voidReason === null && !discarded) continue;
    const why = swing.voidReason === null ? 'left out by the coach' : VOID_WORDS[swing.voidReason];
    counts.set(why, (counts.get(why) ?? 0) + 1);
  }
  return [...counts].sort(([, a], [, b]) => b - a).map(([why, count]) => `${count}: ${why}`);
}
