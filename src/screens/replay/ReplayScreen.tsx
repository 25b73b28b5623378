import { useEffect, useMemo } from 'preact/hooks';
import { FunnelChart } from '../chart/FunnelChart.tsx';
import { Choice } from '../controls/Choice.tsx';
import { LastReach } from '../court/LastReach.tsx';
import { LastTen } from '../court/LastTen.tsx';
import { SensorStrip } from '../court/SensorStrip.tsx';
import { ZeroGuide } from '../court/ZeroGuide.tsx';
import { hashOf } from '../route.ts';
import type { WorkerClient } from '../worker-client.ts';
import { openReplay, REPLAY_SPEEDS, type ReplayModel, type ReplaySpeed } from './replay-model.ts';
import '../court/court.css';
import './replay.css';

interface Props {
  readonly client: WorkerClient;
  readonly setId: string;
}

/** A stored set on the live screen again, at its own pace or faster. */
export function ReplayScreen({ client, setId }: Props) {
  const replay = useMemo(() => openReplay(client, setId), [client, setId]);
  useEffect(() => replay.dispose, [replay]);
  const model = replay.model.value;
  if (model === null) {
    return (
      <main class="page">
        <h1>Replay</h1>
        <p role="status">{replay.trouble.value ?? 'Reading the set…'}</p>
        <a class="button" href={hashOf({ screen: 'set', setId })}>
          Back
        </a>
      </main>
    );
  }
  const { view } = model;
  const { player, implement, ball } = view.description;
  return (
    <main class="court">
      <h1 class="out-of-sight">Replay</h1>
      <SensorStrip
        view={view}
        line={[model.isOver.value ? 'The replay is over' : 'Replay', player, implement, ball].join(
          ' · ',
        )}
        onConnect={null}
      />
      <section class="court-reach" aria-label="Last reach">
        {view.zero.value.phase === 'zeroed' || view.swings.value.length > 0 ? (
          <LastReach view={view} />
        ) : (
          <ZeroGuide view={view} />
        )}
      </section>
      <div class="court-between">
        <FunnelChart funnel={view.funnel.value} />
        <LastTen band={view.band.value} swings={view.likeSwings.value} />
      </div>
      <Player model={model} setId={setId} />
    </main>
  );
}

function Player({ model, setId }: { readonly model: ReplayModel; readonly setId: string }) {
  const { nowUs, endUs, isPlaying, isOver, speed } = model;
  return (
    <section class="replay-player" aria-label="Replay">
      <label class="replay-place">
        <span>
          {clockWords(nowUs.value)} of {clockWords(endUs)}
        </span>
        <input
          type="range"
          min={0}
          max={endUs}
          step={1e6}
          value={nowUs.value}
          aria-label="Place in the set"
          aria-valuetext={clockWords(nowUs.value)}
          onInput={(event) => model.goTo(Number(event.currentTarget.value))}
        />
      </label>
      <Choice
        name="replay-speed"
        legend="Speed"
        options={REPLAY_SPEEDS.map((times) => ({ value: String(times), label: `${times}×` }))}
        value={String(speed.value)}
        onChange={(value) => model.setSpeed(Number(value) as ReplaySpeed)}
      />
      <div class="replay-buttons">
        <button type="button" class="primary" onClick={isPlaying.value ? model.pause : model.play}>
          {playWords(isPlaying.value, isOver.value)}
        </button>
        <a class="button" href={hashOf({ screen: 'set', setId })}>
          Back to the set
        </a>
      </div>
    </section>
  );
}

function playWords(isPlaying: boolean, isOver: boolean): string {
  if (isPlaying) return 'Pause';
  return isOver ? 'Play again' : 'Play';
}

/** Minutes and seconds. */
function clockWords(us: number): string {
  const seconds = Math.floor(us / 1e6);
  return `${Math.floor(seconds / 60)}:${String(seconds % 60).padStart(2, '0')}`;
}
