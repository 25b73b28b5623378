import { computed, type ReadonlySignal, signal } from '@preact/signals';
import { EMPTY, type Observable, Subscription } from 'rxjs';
import { type PerSegment, SEGMENTS, type Segment } from '../../core/arm/segments.ts';
import type { LiveView, ScoredSwing } from '../../core/pipeline/outputs.ts';
import { type Landing, targetPoints } from '../../core/plan/target-points.ts';
import type { SetDescription } from '../../core/recording/set-description.ts';
import type { Condition, SetEvent } from '../../core/recording/set-record.ts';
import type { BallLanding } from '../../devices/simulated-transport.ts';
import type { ConnectionState, Transport } from '../../devices/transport.ts';
import type { FromWorker } from '../../worker/contract.ts';
import type { WorkerClient } from '../worker-client.ts';
import { type BlockProgress, blockProgress } from './block-progress.ts';
import { createCoachLog, lastStruck, scoreTarget } from './coach-log.ts';
import { type CourtView, createCourtView } from './court-view.ts';
import { asTone, cueOf } from './cues.ts';
import type { SensorStatus } from './sensor-status.ts';
import { type CourtSound, createCourtSound } from './sound.ts';
import { createSteadyTarget } from './steady-target.ts';

/** What a set needs from outside. */
export interface CourtSources {
  readonly description: SetDescription;
  readonly transport: Transport;
  readonly client: WorkerClient;
  /** Where simulated balls landed; real ones are seen by the coach. */
  readonly landings$?: Observable<BallLanding>;
  /** Hears what the coach does: the simulated player, who is in the room. */
  readonly hear?: (event: SetEvent) => void;
  /** The browser's own unless told otherwise. */
  readonly sound?: CourtSound;
}

/** One running set as the Court screen sees it. */
export interface CourtModel extends CourtView {
  /** The swing that the score pad means. */
  readonly target: ReadonlySignal<ScoredSwing | null>;
  /** What undo would take back, in words; null: nothing. */
  readonly undoes: ReadonlySignal<string | null>;
  readonly progress: ReadonlySignal<BlockProgress>;
  /** Ticks and cues can be heard. */
  readonly isSoundOn: ReadonlySignal<boolean>;
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
  /** So many score steps further down from what the swing has; the first down is the best, the first up the worst. */
  stepScore(steps: number): void;
  /** Where the ball of the swing landed, off the planned target's middle. */
  land(landing: Landing): void;
  discard(): void;
  note(text: string): void;
  /** What follows is swung under this condition. */
  beginBlock(condition: Condition): void;
  turnSound(on: boolean): void;
  undo(): void;
  /** Lets the last packets come, lets go of the sensors, writes the end of the set and cleans up. @returns false if that is under way already */
  end(): Promise<boolean>;
}

/** Found and true contact are far closer than this, neighbouring swings far further apart. */
const SAME_CONTACT_US = 500_000;
/** No live view for this long, while sensors should be streaming, means that all of them are silent. */
const FROZEN_MS = 2500;

/** Simulated sensors are silent once their player has played: that is no trouble. */
const FINISHED: SensorStatus = { level: 'waiting', short: 'finished', advice: null };
const ALL_FINISHED = { upperArm: FINISHED, forearm: FINISHED, implement: FINISHED };

/** Starts a set: begins its file, connects the streams and turns them into signals. */
export function createCourtModel(sources: CourtSources): CourtModel {
  const { description, transport, client, sound = createCourtSound() } = sources;
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

  const isSoundOn = signal(true);

  const send = (event: SetEvent): number => {
    const hostTimeUs = transport.nowUs();
    client.append({ kind: 'event', hostTimeUs, event });
    sources.hear?.(event);
    return hostTimeUs;
  };
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

  const steady = createSteadyTarget(() => performance.now());
  /** The swing that a tap now is aimed at. */
  const aimed = (): ScoredSwing | null => {
    const contactUs = steady.stillMeant();
    return contactUs === null
      ? target.value
      : (swings.value.find(({ swing }) => swing.contactTimeUs === contactUs) ?? null);
  };

  let heardUs = Number.NEGATIVE_INFINITY;
  /** A new swing makes itself heard; the player is told of it as the plan has it. */
  const beHeard = (): void => {
    const newest = lastStruck(swings.value);
    if (newest === undefined || newest.swing.contactTimeUs <= heardUs) return;
    const { contactTimeUs } = newest.swing;
    heardUs = contactTimeUs;
    if (!isSoundOn.value) return;
    const planned = cueOf(description.plan, court.band.value, swings.value, newest);
    const cue = planned?.kind === 'speech' && !sound.canSpeak() ? asTone(planned) : planned;
    if (cue === null) sound.tick();
    else {
      if (cue.kind === 'tone') sound.tone(cue.miss);
      else sound.say(cue.words);
      send({ type: 'cued', contactTimeUs, cue: cue.kind });
    }
  };

  const score = (points: number): void => {
    const swing = aimed();
    // a double tap says it once
    if (swing !== null && swing.points !== points) log.score(swing, points);
  };

  const show = (next: LiveView): void => {
    lastViewMs = performance.now();
    isFrozen.value = false;
    court.show(next);
    steady.look(target.value);
    beHeard();
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
    sensors: computed(() => (playedOut.value ? ALL_FINISHED : court.sensors.value)),
    target,
    undoes: log.undoes,
    progress: computed(() => blockProgress(description.plan, court.blocks.value, swings.value)),
    isSoundOn,
    landing,
    playedOut,
    savedBytes,
    connect: (segment) => void transport.connect(segment),
    blink: (segment) => transport.identify(segment),
    forget: (segment) => void transport.forget(segment),
    shakeNow: () => void send({ type: 'shake-requested' }),
    zeroAgain: () => void send({ type: 'zero-requested' }),
    score,
    stepScore: (steps) => {
      const { scoreSteps } = description;
      const now = scoreSteps.indexOf(aimed()?.points ?? Number.NaN);
      const first = steps > 0 ? 0 : scoreSteps.length - 1;
      const next = now < 0 ? first : Math.min(scoreSteps.length - 1, Math.max(0, now + steps));
      const points = scoreSteps[next];
      if (points !== undefined) score(points);
    },
    land: (at) => {
      const swing = aimed();
      const planned = description.plan?.target ?? null;
      if (swing === null || planned === null) return;
      log.land(swing, at, targetPoints(at, planned, description.scoreSteps));
    },
    discard: () => {
      const swing = aimed();
      if (swing !== null && !swing.discarded) log.discard(swing);
    },
    note: log.note,
    beginBlock: (condition) => void send({ type: 'block-began', condition }),
    turnSound: (on) => {
      isSoundOn.value = on;
    },
    undo: log.undo,
    end: async () => {
      if (isEnding) return false;
      isEnding = true;
      await transport.close();
      send({ type: 'set-ended' });
      client.post({ type: 'end-set' });
      streams.unsubscribe();
      return true;
    },
  };
}
