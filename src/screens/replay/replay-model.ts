import { computed, type ReadonlySignal, signal } from '@preact/signals';
import { interval, Subscription } from 'rxjs';
import type { PerSegment } from '../../core/arm/segments.ts';
import type { SetDescription } from '../../core/recording/set-description.ts';
import type { ConnectionState } from '../../devices/transport.ts';
import { type CourtView, createCourtView } from '../court/court-view.ts';
import type { SensorStatus } from '../court/sensor-status.ts';
import type { WorkerClient } from '../worker-client.ts';

/** How many times faster than life a set can be played again. */
export const REPLAY_SPEEDS = [1, 2, 4, 8] as const;
export type ReplaySpeed = (typeof REPLAY_SPEEDS)[number];

/** A stored set played again on the live screen. Nothing here changes it. */
export interface ReplayModel {
  readonly view: CourtView;
  /** Host time now and at the end, microseconds since the start of the set. */
  readonly nowUs: ReadonlySignal<number>;
  readonly endUs: number;
  readonly isPlaying: ReadonlySignal<boolean>;
  /** The end is reached: the sensors say nothing more, and that is no trouble. */
  readonly isOver: ReadonlySignal<boolean>;
  readonly speed: ReadonlySignal<ReplaySpeed>;
  play(): void;
  pause(): void;
  setSpeed(speed: ReplaySpeed): void;
  goTo(hostTimeUs: number): void;
}

/** A set on its way to be played, and its model once it has been read. */
export interface OpeningReplay {
  /** null until the set has been read. */
  readonly model: ReadonlySignal<ReplayModel | null>;
  readonly trouble: ReadonlySignal<string | null>;
  dispose(): void;
}

/** So often the worker is asked for the next piece; it has drawn the last one by then, or is not asked. */
const TICK_MS = 50;
const STREAMING: ConnectionState = { state: 'streaming', batteryPercent: null, deviceWords: null };
const ALL_STREAMING: PerSegment<ConnectionState> = {
  upperArm: STREAMING,
  forearm: STREAMING,
  implement: STREAMING,
};

const OVER: SensorStatus = { level: 'waiting', short: 'replay over', advice: null };
const ALL_OVER: PerSegment<SensorStatus> = { upperArm: OVER, forearm: OVER, implement: OVER };

/** Asks the worker to read a set and plays it. @param nowMs a clock in milliseconds that never goes back */
export function openReplay(
  client: WorkerClient,
  setId: string,
  nowMs: () => number = () => performance.now(),
): OpeningReplay {
  const model = signal<ReplayModel | null>(null);
  const trouble = signal<string | null>(null);
  const streams = new Subscription();
  streams.add(
    client.messages$.subscribe((message) => {
      if (message.type === 'trouble') trouble.value = message.trouble.message;
      else if (message.type === 'replay-ready' && message.description.setId === setId) {
        const { description, endUs } = message;
        model.value = createReplay(client, { description, endUs, trouble, nowMs }, streams);
      }
    }),
  );
  client.post({ type: 'replay-set', setId });
  return {
    model,
    trouble,
    dispose: () => {
      streams.unsubscribe();
      client.post({ type: 'replay-over' });
    },
  };
}

interface ReplaySources {
  readonly description: SetDescription;
  readonly endUs: number;
  readonly trouble: ReadonlySignal<string | null>;
  readonly nowMs: () => number;
}

function createReplay(
  client: WorkerClient,
  { description, endUs, trouble, nowMs }: ReplaySources,
  streams: Subscription,
): ReplayModel {
  const nowUs = signal(0);
  const isPlaying = signal(true);
  const speed = signal<ReplaySpeed>(1);
  const isOver = computed(() => nowUs.value >= endUs);
  let isWaiting = false;
  let lastMs = nowMs();
  const view = createCourtView({
    description,
    connections: signal(ALL_STREAMING),
    trouble,
    isFrozen: signal(false),
    asSaid: (swings) => swings,
  });
  const ask = (hostTimeUs: number): void => {
    if (hostTimeUs < nowUs.value) view.clear();
    nowUs.value = Math.min(endUs, Math.max(0, hostTimeUs));
    isWaiting = true;
    client.post({ type: 'replay-to', hostTimeUs: nowUs.value });
  };
  streams.add(
    client.messages$.subscribe((message) => {
      if (message.type !== 'live') return;
      isWaiting = false;
      view.show(message.view);
    }),
  );
  streams.add(
    interval(TICK_MS).subscribe(() => {
      const passedMs = nowMs() - lastMs;
      lastMs = nowMs();
      if (!isPlaying.value || isWaiting) return;
      ask(nowUs.value + passedMs * 1000 * speed.value);
      if (isOver.value) isPlaying.value = false;
    }),
  );
  ask(0);
  return {
    view: { ...view, sensors: computed(() => (isOver.value ? ALL_OVER : view.sensors.value)) },
    nowUs: computed(() => nowUs.value),
    endUs,
    isPlaying,
    isOver,
    speed,
    play: () => {
      if (isOver.value) ask(0);
      isPlaying.value = true;
    },
    pause: () => {
      isPlaying.value = false;
    },
    setSpeed: (wanted) => {
      speed.value = wanted;
    },
    goTo: ask,
  };
}
