import { DEFAULT_ERRORS } from '../core/simulator/sensor-errors.ts';
import type { Kit, SessionOptions } from '../core/simulator/session-types.ts';

/** What can be chosen of the simulated player: invented, nine years, junior squash. */
export type SimulatedPlayer = Pick<SessionOptions, 'strategy' | 'implement' | 'ball'>;

/**
 * A set of forty fed balls, one about every six seconds.
 * Radio and sensors are as bad as ordinary ones: the demo must not look better than real life.
 * @param seed everything random follows from it
 */
export function sessionOptions(player: SimulatedPlayer, seed: number): SessionOptions {
  return {
    ...player,
    seed,
    handedness: 'right',
    swings: 40,
    swingIntervalS: 6,
    nominalRateHz: 200,
    errors: DEFAULT_ERRORS,
  };
}

const SHORT_KIT: Kit = { implement: 'short', ball: 'training' };
const FULL_KIT: Kit = { implement: 'full', ball: 'standard' };
const SWINGS_PER_BLOCK = 10;

/**
 * Four blocks of ten balls, ABBA: A is the player's kit, B the full racket for whoever plays with the short one,
 * else the short one. Otherwise as {@link sessionOptions}.
 * @param seed everything random follows from it
 */
export function fourBlocks(player: SimulatedPlayer, seed: number): SessionOptions {
  const { implement, ball } = player;
  const own = { implement, ball, swings: SWINGS_PER_BLOCK };
  const other = {
    ...(implement === SHORT_KIT.implement ? FULL_KIT : SHORT_KIT),
    swings: SWINGS_PER_BLOCK,
  };
  return {
    ...sessionOptions(player, seed),
    swings: SWINGS_PER_BLOCK,
    laterBlocks: [other, other, own],
  };
}
