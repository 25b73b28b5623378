import { atFileTime } from '../../src/core/recording/set-file-format.ts';
import type { SetRecord } from '../../src/core/recording/set-record.ts';
import { DEFAULT_ERRORS } from '../../src/core/simulator/sensor-errors.ts';
import type { SessionOptions, SimulatedSession } from '../../src/core/simulator/session-types.ts';
import { simulateSession } from '../../src/core/simulator/simulate-session.ts';

/** A simulated set with all its records, as a file would give them back. */
export function simulatedSet(change: Partial<SessionOptions>): {
  readonly session: SimulatedSession;
  readonly records: readonly SetRecord[];
} {
  const options: SessionOptions = {
    seed: 1,
    strategy: 'distal',
    implement: 'full',
    ball: 'standard',
    handedness: 'right',
    swings: 6,
    swingIntervalS: 5,
    nominalRateHz: 200,
    errors: DEFAULT_ERRORS,
    ...change,
  };
  const session = simulateSession(options, {
    setId: 'test-set',
    startedAtMs: 0,
    programVersion: 'test',
  });
  const records: SetRecord[] = [];
  for (const step of session.steps)
    if (step.kind === 'record') records.push(atFileTime(step.record));
  return { session, records };
}
