import { merge, type Observable, Subject } from 'rxjs';
import { SEGMENTS, type Segment, segmentIndex } from '../core/arm/segments.ts';
import type { SetDescription } from '../core/recording/set-description.ts';
import type { SetRecord } from '../core/recording/set-record.ts';
import type { BallLanding, SessionOptions } from '../core/simulator/session-types.ts';
import { simulateSensors } from '../core/simulator/simulate-session.ts';
import { LinkedSensors } from './linked-sensors.ts';
import { createSimulatedPort } from './simulated-port.ts';
import { SimulatedRadio } from './simulated-radio.ts';
import type { Transport } from './transport.ts';

export type { BallLanding } from '../core/simulator/session-types.ts';

/** What to simulate, and how fast. */
export interface SimulatedSet {
  readonly options: SessionOptions;
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
/** The radio goes on for so long after the last ball, microseconds. */
const AFTERWARDS_US = 3e6;

/** Plays a simulated session against the clock, over links like those of real sensors. */
export function createSimulatedTransport({
  options,
  speed,
  head,
}: SimulatedSet): SimulatedTransport {
  const session = simulateSensors(options, head);
  const radio = new SimulatedRadio();
  const sensors = new LinkedSensors(radio);
  const asked = new Subject<SetRecord>();
  const landings = new Subject<BallLanding>();
  const { errors } = options;
  const ports = session.hardware.map((hardware, k) =>
    createSimulatedPort(
      hardware,
      radio,
      errors,
      k === 1 ? errors.dropout : null,
      options.seed * 32 + k,
    ),
  );
  let timer: ReturnType<typeof setInterval> | undefined;
  let lastTickMs = 0;
  let isAdvancing = false;

  const connect = (segment: Segment): Promise<void> =>
    sensors.connect(segment, async () => ports[segmentIndex(segment)]!);

  const playSession = (): void => {
    for (const segment of SEGMENTS) void connect(segment);
    radio.at(session.zeroRequestUs, () =>
      asked.next({ kind: 'event', hostTimeUs: radio.nowUs(), event: { type: 'zero-requested' } }),
    );
    for (const { hostTimeUs, landing } of session.landings) {
      radio.at(hostTimeUs, () => landings.next(landing));
    }
    const lastUs = session.landings.at(-1)?.hostTimeUs ?? session.zeroRequestUs;
    radio.at(lastUs + AFTERWARDS_US, () => landings.complete());
  };

  const tick = async (): Promise<void> => {
    if (isAdvancing) return;
    isAdvancing = true;
    const startedMs = performance.now();
    const stepMs = Math.min(startedMs - lastTickMs, LONGEST_STEP_MS);
    lastTickMs = startedMs;
    try {
      await radio.advance(
        radio.nowUs() + stepMs * 1000 * speed,
        () => performance.now() - startedMs > BUDGET_MS,
      );
    } finally {
      isAdvancing = false;
    }
  };

  return {
    description: session.description,
    records$: merge(sensors.records$, asked),
    connections$: sensors.connections$,
    landings$: landings.asObservable(),
    startTimeline: () => {
      clearInterval(timer);
      lastTickMs = performance.now();
      playSession();
      timer = setInterval(() => void tick(), TICK_MS);
    },
    // The simulated sensors come by themselves, at the start; later the coach may fetch one back.
    connect: (segment) => (timer === undefined ? Promise.resolve() : connect(segment)),
    identify: (segment) => sensors.identify(segment),
    forget: (segment) => sensors.forget(segment),
    nowUs: () => radio.nowUs(),
    close: async () => {
      await sensors.close();
      clearInterval(timer);
      asked.complete();
      landings.complete();
    },
  };
}
