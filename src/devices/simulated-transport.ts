import { BehaviorSubject, type Observable, Subject } from 'rxjs';
import type { PerSegment } from '../core/arm/segments.ts';
import type { SetDescription } from '../core/recording/set-description.ts';
import type { SetRecord } from '../core/recording/set-record.ts';
import type { BallLanding, SimulatedStep } from '../core/simulator/session-types.ts';
import { simulateSession } from '../core/simulator/simulate-session.ts';
import { type SimulatedPlayer, sessionOptions } from './simulated-player.ts';
import type { ConnectionState, Transport } from './transport.ts';

export type { BallLanding } from '../core/simulator/session-types.ts';

/** What to simulate, and how fast. */
export interface SimulatedSet {
  readonly player: SimulatedPlayer;
  readonly seed: number;
  /** Simulated seconds per second. */
  readonly speed: number;
  /** What the simulator does not know of the set. */
  readonly head: Pick<SetDescription, 'setId' | 'startedAtMs' | 'programVersion'>;
}

/** A transport whose bytes come from the simulator. */
export interface SimulatedTransport extends Transport {
  readonly description: SetDescription;
  /** Where each ball went; completes when the player has played the last one. */
  readonly landings$: Observable<BallLanding>;
}

/** Between two looks at the clock. Only the simulated player may depend on a timer: nothing real waits for it. */
const TICK_MS = 16;
/** Longest simulating in one tick, so that the screen stays responsive; the clock waits when it is not enough. */
const BUDGET_MS = 12;
/** A longer pause (hidden tab, sleeping phone) stops the player instead of being caught up. */
const LONGEST_STEP_MS = 250;

/** Plays a simulated session against the clock. */
export function createSimulatedTransport({
  player,
  seed,
  speed,
  head,
}: SimulatedSet): SimulatedTransport {
  const session = simulateSession(sessionOptions(player, seed), head);
  const records = new Subject<SetRecord>();
  const landings = new Subject<BallLanding>();
  const connections = new BehaviorSubject<PerSegment<ConnectionState>>(
    all({ state: 'connecting' }),
  );
  let clockUs = 0;
  let lastTickMs = 0;
  let timer: ReturnType<typeof setInterval> | undefined;
  let waiting: SimulatedStep | null = null;

  const emit = (step: SimulatedStep): void => {
    if (step.kind === 'landing') landings.next(step.landing);
    else records.next(step.record);
  };

  const tick = (): void => {
    const startedMs = performance.now();
    const stepMs = Math.min(startedMs - lastTickMs, LONGEST_STEP_MS);
    lastTickMs = startedMs;
    const untilUs = clockUs + stepMs * 1000 * speed;
    while (true) {
      if (waiting === null) {
        const next = session.steps.next();
        if (next.done) {
          clearInterval(timer);
          clockUs = untilUs;
          landings.complete();
          return;
        }
        waiting = next.value;
      }
      const dueUs = hostTimeOf(waiting);
      if (dueUs > untilUs) break;
      emit(waiting);
      waiting = null;
      if (performance.now() - startedMs > BUDGET_MS) {
        clockUs = Math.max(clockUs, dueUs);
        return;
      }
    }
    clockUs = untilUs;
  };

  return {
    description: session.description,
    records$: records.asObservable(),
    connections$: connections.asObservable(),
    landings$: landings.asObservable(),
    startTimeline: () => {
      clearInterval(timer);
      lastTickMs = performance.now();
      connections.next(all({ state: 'streaming' }));
      timer = setInterval(tick, TICK_MS);
    },
    // The simulated sensors are all there from the start.
    connect: () => Promise.resolve(),
    nowUs: () => clockUs,
    close: () => {
      clearInterval(timer);
      session.steps.return();
      records.complete();
      connections.complete();
      landings.complete();
      return Promise.resolve();
    },
  };
}

function hostTimeOf(step: SimulatedStep): number {
  return step.kind === 'landing' ? step.hostTimeUs : step.record.hostTimeUs;
}

function all(state: ConnectionState): PerSegment<ConnectionState> {
  return { upperArm: state, forearm: state, implement: state };
}
