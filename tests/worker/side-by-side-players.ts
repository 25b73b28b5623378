import type { SessionOptions } from '../../src/core/simulator/session-types.ts';
import { describedSet } from '../recording/described-set.ts';

/** A set as its file holds it, every ball scored by what it did. */
export type DescribedSet = ReturnType<typeof describedSet>;

/** Times on one day and on another, milliseconds since 1970 (UTC). */
const DAY_MS = Date.UTC(2026, 2, 2, 10);
const OTHER_DAY_MS = Date.UTC(2026, 2, 9, 10);

/** What the players below have in common: the short racket, the training ball, forty swings. */
const USUAL: Partial<SessionOptions> = { swings: 40, swingIntervalS: 5 };

/**
 * Three invented players, by the kit that serves them. The first misses more with the full racket and the standard ball;
 * the second steers a full racket through forearm and hand and is stiff with the short one; the third has hit a few
 * balls with each. Seeds are among those where forty swings with each are enough to show it.
 */
export const SIDE_BY_SIDE_PLAYERS = {
  'Player Scale': () => [
    describedSet(
      {
        ...USUAL,
        seed: 52,
        implement: 'full',
        ball: 'standard',
        swings: 20,
        laterBlocks: [
          { implement: 'short', ball: 'training', swings: 40 },
          { implement: 'full', ball: 'standard', swings: 20 },
        ],
      },
      { setId: 'scale', player: 'Player Scale', startedAtMs: DAY_MS },
    ),
  ],
  'Player Step': () => [
    describedSet(
      { ...USUAL, seed: 23, implement: 'full' },
      { setId: 'step-full', player: 'Player Step', startedAtMs: DAY_MS },
    ),
    describedSet(
      { ...USUAL, seed: 24, strategy: 'frozen' },
      { setId: 'step-short', player: 'Player Step', startedAtMs: OTHER_DAY_MS },
    ),
  ],
  'Player Thin': () => [
    describedSet(
      {
        ...USUAL,
        seed: 25,
        swings: 6,
        laterBlocks: [{ implement: 'full', ball: 'training', swings: 6 }],
      },
      { setId: 'thin', player: 'Player Thin', startedAtMs: DAY_MS },
    ),
  ],
} as const satisfies Readonly<Record<string, () => readonly DescribedSet[]>>;
