import { computed, type ReadonlySignal, signal } from '@preact/signals';
import { type PerSegment, SEGMENTS, type Segment } from '../../core/arm/segments.ts';
import type { Funnel } from '../../core/measures/funnel.ts';
import type {
  LiveView,
  Note,
  PoseLook,
  ScoredSwing,
  SensorHealth,
  ShakeState,
  ZeroState,
} from '../../core/pipeline/outputs.ts';
import { firstCondition, isSameImplement } from '../../core/recording/conditions.ts';
import type { SetDescription } from '../../core/recording/set-description.ts';
import type { Condition } from '../../core/recording/set-record.ts';
import type { ConnectionState } from '../../devices/transport.ts';
import { keepWhileSame } from '../keep-while-same.ts';
import { judgeSensor, type SensorStatus } from './sensor-status.ts';

/** What the live screens draw of a set, whether it runs or is played again. */
export interface CourtView {
  readonly description: SetDescription;
  readonly zero: ReadonlySignal<ZeroState>;
  /** null unless the poses are being taken. */
  readonly pose: ReadonlySignal<PoseLook | null>;
  /** Conditions of the blocks so far, one at least. */
  readonly blocks: ReadonlySignal<readonly Condition[]>;
  readonly notes: ReadonlySignal<readonly Note[]>;
  readonly shake: ReadonlySignal<ShakeState>;
  /** From the sensors' bytes alone; null before any came. */
  readonly health: ReadonlySignal<PerSegment<SensorHealth | null>>;
  readonly sensors: ReadonlySignal<PerSegment<SensorStatus>>;
  readonly connections: ReadonlySignal<PerSegment<ConnectionState>>;
  readonly swings: ReadonlySignal<readonly ScoredSwing[]>;
  /** Those with the implement of the running block: reaches of others are not to be compared with them. */
  readonly likeSwings: ReadonlySignal<readonly ScoredSwing[]>;
  /** Of the running block. */
  readonly band: ReadonlySignal<Condition['sweetSpotBand']>;
  readonly funnel: ReadonlySignal<Funnel | null>;
  /** A problem of storage or worker, in words. */
  readonly trouble: ReadonlySignal<string | null>;
}

interface Sources extends Pick<CourtView, 'description' | 'connections' | 'trouble'> {
  /** All sensors have fallen silent: nothing new is drawn. */
  readonly isFrozen: ReadonlySignal<boolean>;
  /** Swings with what the coach said since the worker last answered. */
  readonly asSaid: (swings: readonly ScoredSwing[]) => readonly ScoredSwing[];
}

/** Recent packet loss is judged over at most this time. */
const LOSS_WINDOW_US = 10_000_000;

/** Turns live views into what the panels draw; `show` takes the next view, `clear` forgets them all. */
export function createCourtView({
  description,
  connections,
  trouble,
  isFrozen,
  asSaid,
}: Sources): CourtView & { show(next: LiveView): void; clear(): void } {
  const view = signal<LiveView | null>(null);
  const earlier = signal<LiveView | null>(null);
  let halfway: LiveView | null = null;
  const status = (segment: Segment): SensorStatus =>
    judgeSensor({
      segment,
      connection: connections.value[segment],
      now: view.value?.sensors[segment] ?? null,
      earlier: earlier.value?.sensors[segment] ?? null,
      viewUs: isFrozen.value ? Number.POSITIVE_INFINITY : (view.value?.hostTimeUs ?? 0),
    });
  const blocks = keepWhileSame(
    () => view.value?.blocks ?? [firstCondition(description)],
    JSON.stringify,
  );
  const swings = keepWhileSame(() => asSaid(view.value?.swings ?? []), swingsKey);
  return {
    description,
    connections,
    trouble,
    zero: keepWhileSame<ZeroState>(
      () => view.value?.zero ?? { phase: 'not-started', problem: null },
      JSON.stringify,
    ),
    pose: keepWhileSame(() => view.value?.pose ?? null, JSON.stringify),
    blocks,
    notes: keepWhileSame(() => view.value?.notes ?? [], JSON.stringify),
    shake: keepWhileSame<ShakeState>(() => view.value?.shake ?? { phase: 'none' }, JSON.stringify),
    health: computed(
      () => view.value?.sensors ?? { upperArm: null, forearm: null, implement: null },
    ),
    sensors: keepWhileSame(() => {
      const [upperArm, forearm, implement] = SEGMENTS.map(status) as [
        SensorStatus,
        SensorStatus,
        SensorStatus,
      ];
      return { upperArm, forearm, implement };
    }, JSON.stringify),
    swings,
    likeSwings: computed(() => {
      const running = blocks.value.at(-1)!;
      return swings.value.filter(({ block }) => isSameImplement(blocks.value[block]!, running));
    }),
    band: computed(() => blocks.value.at(-1)!.sweetSpotBand),
    funnel: keepWhileSame(() => view.value?.funnel ?? null, funnelKey),
    show: (next) => {
      // Two views in turn: the window never shrinks to nothing, which would make a warning flicker.
      if (halfway === null || next.hostTimeUs - halfway.hostTimeUs > LOSS_WINDOW_US / 2) {
        earlier.value = halfway ?? next;
        halfway = next;
      }
      view.value = next;
    },
    clear: () => {
      view.value = null;
      earlier.value = null;
      halfway = null;
    },
  };
}

/** Changes whenever a swing comes or the coach says something about one. */
function swingsKey(swings: readonly ScoredSwing[]): string {
  return swings
    .map(
      ({ swing, points, discarded, landingM }) =>
        `${swing.contactTimeUs},${swing.reachM},${points},${discarded},${landingM}`,
    )
    .join(';');
}

function funnelKey(funnel: Funnel | null): string {
  return funnel === null ? '' : `${funnel.n},${funnel.meanM.join()}`;
}
