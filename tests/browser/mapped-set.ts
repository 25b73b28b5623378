import { targetPoints } from '../../src/core/plan/target-points.ts';
import { firstCondition } from '../../src/core/recording/conditions.ts';
import type { SetDescription } from '../../src/core/recording/set-description.ts';
import { atFileTime } from '../../src/core/recording/set-file-format.ts';
import type { SetRecord } from '../../src/core/recording/set-record.ts';
import type { BallLanding } from '../../src/core/simulator/session-types.ts';
import { simulateSession } from '../../src/core/simulator/simulate-session.ts';
import { samplePlan } from '../recording/sample-plan.ts';
import { setFile } from '../recording/sample-set.ts';
import { sessionOptions } from '../simulator/session-options.ts';

const TARGET = { widthM: 0.8, depthM: 0.8, stepM: 0.35 };

/** A ball as a coach taps it on the target map. */
interface Tapped {
  readonly beyondM: number;
  readonly leftM: number;
  readonly points: number;
}

/** A simulated set whose balls were tapped on the target map where the simulator says they fell, and its file. */
export function mappedSet(swings: number) {
  const { description: simulated, steps } = simulateSession(
    sessionOptions({ seed: 9, strategy: 'distal', implement: 'short', ball: 'training', swings }),
    { setId: 'mapped', startedAtMs: Date.UTC(2026, 7, 4, 15), programVersion: 'test' },
  );
  const description: SetDescription = {
    ...simulated,
    player: 'Heron',
    plan: {
      ...samplePlan,
      target: TARGET,
      conditions: [firstCondition(simulated)],
      blocks: [0],
      order: 'as-listed',
      swingsPerBlock: swings,
    },
  };
  const tapped: Tapped[] = [];
  const records: SetRecord[] = [];
  const add = (record: SetRecord) => records.push(atFileTime(record));
  for (const step of steps) {
    if (step.kind === 'record') add(step.record);
    else {
      const { hostTimeUs, landing } = step;
      const { contactTimeUs } = landing;
      const ball = tapOf(landing, tapped.length, description.scoreSteps);
      const { beyondM, leftM, points } = ball;
      tapped.push(ball);
      // as src/screens/court/coach-log.ts says it
      add({ kind: 'event', hostTimeUs, event: { type: 'landed', contactTimeUs, beyondM, leftM } });
      add({ kind: 'event', hostTimeUs, event: { type: 'score', contactTimeUs, points } });
    }
  }
  const { hostTimeUs } = records.at(-1)!;
  add({ kind: 'event', hostTimeUs, event: { type: 'set-ended' } });
  return { tapped, file: setFile(records, description) };
}

/** The simulator says "0.5 m wide": right and left in turn; in the box, near its middle. */
function tapOf({ words }: BallLanding, place: number, scoreSteps: readonly number[]): Tapped {
  const found = /^(\d+\.\d) m (wide|short|long)$/.exec(words);
  const side = place % 2 === 0 ? 1 : -1;
  const missM = Number(found?.[1] ?? 0.1);
  const way = found?.[2] ?? 'wide';
  const beyondM = way === 'wide' ? 0.05 * side : way === 'long' ? missM : -missM;
  const leftM = way === 'wide' ? side * missM : 0.1 * side;
  return { beyondM, leftM, points: targetPoints({ beyondM, leftM }, TARGET, scoreSteps) };
}
