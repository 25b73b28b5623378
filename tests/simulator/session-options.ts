import { DEFAULT_ERRORS } from '../../src/core/simulator/sensor-errors.ts';
import type { SessionOptions } from '../../src/core/simulator/session-types.ts';

/** A short set of the demo scenario with some of it changed. */
export function sessionOptions(changed: Partial<SessionOptions> = {}): SessionOptions {
  return {
    seed: 5,
    strategy: 'distal',
    implement: 'short',
    ball: 'training',
    handedness: 'right',
    swings: 2,
    swingIntervalS: 6,
    nominalRateHz: 200,
    errors: DEFAULT_ERRORS,
    ...changed,
  };
}
