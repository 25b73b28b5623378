import { DEFAULT_ERRORS } from '../core/simulator/sensor-errors.ts';
import type { SessionOptions } from '../core/simulator/session-types.ts';

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
