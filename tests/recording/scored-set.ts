import type { SetDescription } from '../../src/core/recording/set-description.ts';
import { atFileTime } from '../../src/core/recording/set-file-format.ts';
import type { SetRecord } from '../../src/core/recording/set-record.ts';
import { DEFAULT_ERRORS } from '../../src/core/simulator/sensor-errors.ts';
import type { SessionOptions } from '../../src/core/simulator/session-types.ts';
import { simulateSession } from '../../src/core/simulator/simulate-session.ts';

/** A set as its file holds it, every ball scored by what it did. */
export interface ScoredSet {
  readonly description: SetDescription;
  readonly records: readonly SetRecord[];
}

interface Simulated extends Partial<SessionOptions> {
  readonly setId: string;
  readonly player: string;
  readonly startedAtMs: number;
}

/** A set of the simulated player under another name. */
export function scoredSet({ setId, player, startedAtMs, ...change }: Simulated): ScoredSet {
  const options: SessionOptions = {
    seed: 1,
    strategy: 'distal',
    implement: 'short',
    ball: 'training',
    handedness: 'right',
    swings: 40,
    swingIntervalS: 5,
    nominalRateHz: 200,
    errors: DEFAULT_ERRORS,
    ...change,
  };
  const session = simulateSession(options, { setId, startedAtMs, programVersion: 'test' });
  const records: SetRecord[] = [];
  for (const step of session.steps) {
    if (step.kind === 'record') records.push(atFileTime(step.record));
    else {
      const { contactTimeUs, points } = step.landing;
      const event = { type: 'score', contactTimeUs, points } as const;
      records.push(atFileTime({ kind: 'event', hostTimeUs: step.hostTimeUs, event }));
    }
  }
  const hostTimeUs = records.at(-1)!.hostTimeUs;
  records.push({ kind: 'event', hostTimeUs, event: { type: 'set-ended' } });
  return { description: { ...session.description, player }, records };
}
