import type { SetDescription } from '../core/recording/set-description.ts';
import { atFileTime } from '../core/recording/set-file-format.ts';
import type { SetRecord } from '../core/recording/set-record.ts';
import { SetWriter } from '../core/recording/set-writer.ts';
import type { SimulatedSession } from '../core/simulator/session-types.ts';
import { simulateSession } from '../core/simulator/simulate-session.ts';
import { simulatedPlan } from '../core/simulator/simulated-plan.ts';
import type { DemoSet } from './demo-players.ts';

/** A simulated set as its file holds it, and the truth that no file holds. */
export interface MadeSet {
  readonly description: SetDescription;
  readonly records: readonly SetRecord[];
  readonly file: Uint8Array;
  readonly truth: SimulatedSession['truth'];
}

/**
 * Plays a set as a coach would have recorded it: planned, every ball scored by what it did, ended.
 * @returns the same bytes whenever it is called with the same set and version
 * Checked: tests/recorded-streams/demo-players.test.ts
 */
export function makeDemoSet(demo: DemoSet, programVersion: string): MadeSet {
  const { name: setId, options, startedAtMs, said } = demo;
  const session = simulateSession(options, { setId, startedAtMs, programVersion });
  const plan = simulatedPlan(options, startedAtMs);
  const planned = plan === null ? {} : { plan };
  const description: SetDescription = { ...session.description, ...said, ...planned };
  const parts: Uint8Array[] = [];
  const writer = SetWriter.open({ append: (bytes) => parts.push(bytes) }, description);
  const records: SetRecord[] = [];
  for (const record of scoredRecords(session.steps)) {
    writer.append(record);
    records.push(atFileTime(record));
  }
  writer.end();
  return { description, records, file: Buffer.concat(parts), truth: session.truth };
}

/** All records, scored by what the ball did, as a coach would have. */
function* scoredRecords(steps: SimulatedSession['steps']): Generator<SetRecord> {
  let lastUs = 0;
  for (const step of steps) {
    if (step.kind === 'record') {
      lastUs = step.record.hostTimeUs;
      yield step.record;
    } else {
      const { contactTimeUs, points } = step.landing;
      yield {
        kind: 'event',
        hostTimeUs: step.hostTimeUs,
        event: { type: 'score', contactTimeUs, points },
      };
    }
  }
  yield { kind: 'event', hostTimeUs: lastUs, event: { type: 'set-ended' } };
}
