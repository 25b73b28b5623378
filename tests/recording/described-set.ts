import type { SetDescription } from '../../src/core/recording/set-description.ts';
import { atFileTime } from '../../src/core/recording/set-file-format.ts';
import type { SetRecord } from '../../src/core/recording/set-record.ts';
import type { SessionOptions } from '../../src/core/simulator/session-types.ts';
import { simulateSession } from '../../src/core/simulator/simulate-session.ts';
import { sessionOptions } from '../simulator/session-options.ts';
import { setFile } from './sample-set.ts';

/** What a test says of a set besides how it is swung. */
type Said = Pick<SetDescription, 'setId' | 'startedAtMs'> & Partial<SetDescription>;

/** A simulated set that is scored by where its balls landed and described as the test wants, and its file. */
export function describedSet(change: Partial<SessionOptions>, said: Said) {
  const session = simulateSession(sessionOptions(change), { ...said, programVersion: 'test' });
  const description: SetDescription = { ...session.description, ...said };
  const records: SetRecord[] = [];
  for (const step of session.steps) {
    if (step.kind === 'record') {
      records.push(renamed(atFileTime(step.record), session.description, said));
    } else {
      const { contactTimeUs, points } = step.landing;
      const event = { type: 'score', contactTimeUs, points } as const;
      records.push(atFileTime({ kind: 'event', hostTimeUs: step.hostTimeUs, event }));
    }
  }
  const { hostTimeUs } = records.at(-1)!;
  records.push({ kind: 'event', hostTimeUs, event: { type: 'set-ended' } });
  return { description, records, file: setFile(records, description) };
}

/** Kit that the simulator calls as in the description bears the test's names in later blocks too. */
function renamed(record: SetRecord, simulated: SetDescription, said: Said): SetRecord {
  if (record.kind !== 'event' || record.event.type !== 'block-began') return record;
  const { condition } = record.event;
  if (condition.implement !== simulated.implement) return record;
  const { implement = condition.implement, ball = condition.ball } = said;
  return { ...record, event: { ...record.event, condition: { ...condition, implement, ball } } };
}
