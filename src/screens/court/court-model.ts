import { computed, type ReadonlySignal, signal } from '@preact/signals';
import { EMPTY, type Observable, Subscription } from 'rxjs';
import { type PerSegment, SEGMENTS, type Segment } from '../../core/arm/segments.ts';
import type { LiveView, ScoredSwing } from '../../core/pipeline/outputs.ts';
import type { SetDescription } from '../../core/recording/set-description.ts';
import type { SetEvent } from '../../core/recording/set-record.ts';
import type { BallLanding } from '../../devices/simulated-transport.ts';
import type { ConnectionState, Transport } from '../../devices/transport.ts';
import type { FromWorker } from '../../worker/contract.ts';
import type { WorkerClient } from '../worker-client.ts';
import { createCoachLog, discardTarget, scoreTarget } from './coach-log.ts';
import { type CourtView, createCourtView } from './court-view.ts';

/** What a set needs from outside. */
export interface CourtSources {
  readonly description: SetDescription;
  readonly transport: Transport;
  readonly client: WorkerClient;
  /** Where simulated balls landed; real ones are seen by the coach. */
  readonly landings$?: Observable<BallLanding>;
}

/** One running set as the Court screen sees it. */
export interface CourtModel extends CourtView {
  /** The swing that the score pad means. */
  readonly target: ReadonlySignal<ScoredSwing | null>;
  readonly canUndo: ReadonlySignal<boolean>;
  readonly canDiscard: ReadonlySignal<boolean>;
  /** Where the simulated ball of that swing went; null while it flies, and for real balls. */
  readonly landing: ReadonlySignal<BallLanding | null>;
  /** The simulated player has played the last ball. */
  readonly playedOut: ReadonlySignal<boolean>;
  /** Bytes known to be on the device's storage. */
  readonly savedBytes: ReadonlySignal<number>;
  connect(segment: Segment): void;
  /** Makes a connected sensor blink, to see which one it is. */
  blink(segment: Segment): void;
  /** Lets go of a sensor and makes the browser forget it, where it can. */
  forget(segment: Segment): void;
  /** The three sensors are about to be shaken together in one hand. */
  shakeNow(): void;
  zeroAgain(): void;
  score(points: number): void;
  discard(): void;
  undo(): void;
  /** Lets the last packets come, lets go of the sensors, writes the end of the set and cleans up. */
  end(): Promise<void>;
}

/** Found and true contact are far closer than this, neighbouring swings far further apart. */
const SAME_CONTACT_US = 500_000;
/** No live view for this long, while sensors should be streaming, means that all of them are silent. */
const FROZEN_MS = 2500;

/** Starts a set: begins its file, connects the streams and turns them into signals. */
export function createCourtModel(sources: CourtSources): CourtModel {
  const { description, transport, client } = sources;
  const connections = signal<PerSegment<ConnectionState>>({
    upperArm: { state: 'absent' },
    forearm: { state: 'absent' },
    implement: { state: 'absent' },
  });
  const landings = signal<readonly BallLanding[]>([]);
  const playedOut = signal(false);
  const savedBytes = signal(0);
  const trouble = signal<string | null>(null);
  const isFrozen = signal(false);
  let lastViewMs = performance.now();
  let isEnding = false;

  const send = (event: SetEvent): void =>
    client.append({ kind: 'event', hostTimeUs: transport.nowUs(), event });
  const log = createCoachLog(send);
  const court = createCourtView({
    description,
    connections,
    trouble,
    isFrozen,
    asSaid: log.applyTo,
  });
  const { swings } = court;
  const target = computed(() => scoreTarget(swings.value));
  const landing = computed(() => {
    const contactUs = target.value?.swing.contactTimeUs ?? Number.NaN;
    const isOfTarget = (ball: BallLanding): boolean =>
      Math.abs(ball.contactTimeUs - contactUs) < SAME_CONTACT_US;
    return landings.value.find(isOfTarget) ?? null;
  });

  const show = (next: LiveView): void => {
    lastViewMs = performance.now();
    isFrozen.value = false;
    court.show(next);
    // The next frame starts after this one is on the screen.
    requestAnimationFrame(() => client.post({ type: 'live-drawn' }));
  };

  const hear = (message: FromWorker): void => {
    if (message.type === 'live') show(message.view);
    else if (message.type === 'trouble') trouble.value = message.trouble.message;
    else if (message.type === 'set-begun' && message.setId === description.setId)
      transport.startTimeline();
    else if (message.type === 'recorded') savedBytes.value = message.bytes;
  };

  const streams = new Subscription();
  streams.add(client.messages$.subscribe(hear));
  streams.add(transport.records$.subscribe((record) => client.append(record)));
  streams.add(
    transport.connections$.subscribe((states) => {
      connections.value = states;
    }),
  );
  streams.add(
    (sources.landings$ ?? EMPTY).subscribe({
      next: (ball) => {
        landings.value = [...landings.value, ball];
      },
      complete: () => {
        playedOut.value = sources.landings$ !== undefined;
      },
    }),
  );
  // Only the strip depends on this timer; recording does not.
  const watch = setInterval(() => {
    const streaming = SEGMENTS.some((segment) => connections.value[segment].state === 'streaming');
    // A hidden page draws nothing and so receives no views.
    if (document.hidden || !streaming || playedOut.value) lastViewMs = performance.now();
    isFrozen.value = performance.now() - lastViewMs > FROZEN_MS;
  }, 500);
  streams.add(() => clearInterval(watch));
  client.post({ type: 'begin-set', description });

  return {
    ...court,
    target,
    canUndo: log.canUndo,
    canDiscard: computed(() => discardTarget(swings.value) !== null),
    landing,
    playedOut,
    savedBytes,
    connect: (segment) => void transport.connect(segment),
    blink: (segment) => transport.identify(segment),
    forget: (segment) => void transport.forget(segment),
    shakeNow: () => send({ type: 'shake-requested' }),
    zeroAgain: () => send({ type: 'zero-requested' }),
    score: (points) => {
      if (target.value !== null && target.value.points !== points) log.score(target.value, points);
    },
    discard: () => {
      const latest = discardTarget(swings.value);
      if (latest !== null) log.discard(latest);
    },
    undo: log.undo,
    end: async () => {
      if (isEnding) return;
      isEnding = true;
      await transport.close();
      send({ type: 'set-ended' });
      client.post({ type: 'end-set' });
      streams.unsubscribe();
    },
  };
}
