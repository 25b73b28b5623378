import { merge, type Observable, Subject } from 'rxjs';
import { SEGMENTS, type Segment, segmentIndex } from '../core/arm/segments.ts';
import type { SetDescription } from '../core/recording/set-description.ts';
import type { SetEvent, SetRecord } from '../core/recording/set-record.ts';
import type { BallLanding, SessionOptions } from '../core/simulator/session-types.ts';
import { simulateSensors } from '../core/simulator/simulate-session.ts';
import { simulatedPlan } from '../core/simulator/simulated-plan.ts';
import { LinkedSensors } from './linked-sensors.ts';
import { playRadio } from './play-radio.ts';
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
  /** Where each ball went; completes when the player has played the last one of the last block. */
  readonly landings$: Observable<BallLanding>;
  /** Tells the player what the coach has just done. The first request of the poses comes by itself. */
  hear(event: SetEvent): void;
}

/** The radio goes on for so long after the sensors have fallen silent, microseconds. */
const AFTERWARDS_US = 0.9e6;
/** No ball lands sooner than this after it was planned: the player looks again so often, microseconds. */
const LOOK_AGAIN_US = 1e6;

/**
 * Plays a simulated session against the clock, over links like those of real sensors. A session of several blocks is
 * described with its plan, and each later block waits for what the coach does.
 * @throws RangeError for blocks that no plan can say, or a negative number of swings
 * Checked: tests/devices/simulated-transport.test.ts, tests/devices/simulated-blocks.test.ts
 */
export function createSimulatedTransport({
  options,
  speed,
  head,
}: SimulatedSet): SimulatedTransport {
  const session = simulateSensors(options, head);
  const plan = simulatedPlan(options, head.startedAtMs);
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
  let stop: (() => void) | undefined;

  const connect = (segment: Segment): Promise<void> =>
    sensors.connect(segment, async () => ports[segmentIndex(segment)]!);

  const playSession = (): void => {
    for (const segment of SEGMENTS) void connect(segment);
    radio.at(session.zeroRequestUs, () =>
      asked.next({ kind: 'event', hostTimeUs: radio.nowUs(), event: { type: 'zero-requested' } }),
    );
    watchBalls(0);
  };

  const watchBalls = (seen: number): void => {
    const nowUs = radio.nowUs();
    const landed = session.landings.filter(({ hostTimeUs }) => hostTimeUs <= nowUs);
    for (const { landing } of landed.slice(seen)) landings.next(landing);
    const overUs = session.endUs + AFTERWARDS_US;
    if (nowUs >= overUs) {
      landings.complete();
      return;
    }
    const nextUs = session.landings[landed.length]?.hostTimeUs ?? overUs;
    radio.at(Math.min(nextUs, nowUs + LOOK_AGAIN_US, overUs), () => watchBalls(landed.length));
  };

  return {
    description: plan === null ? session.description : { ...session.description, plan },
    records$: merge(sensors.records$, asked),
    connections$: sensors.connections$,
    landings$: landings.asObservable(),
    startTimeline: () => {
      stop?.();
      playSession();
      stop = playRadio(radio, speed);
    },
    // The simulated sensors come by themselves, at the start; later the coach may fetch one back.
    connect: (segment) => (stop === undefined ? Promise.resolve() : connect(segment)),
    identify: (segment) => sensors.identify(segment),
    forget: (segment) => sensors.forget(segment),
    hear: (event) => session.hear(event, radio.nowUs()),
    nowUs: () => radio.nowUs(),
    close: async () => {
      await sensors.close();
      stop?.();
      asked.complete();
      landings.complete();
    },
  };
}
