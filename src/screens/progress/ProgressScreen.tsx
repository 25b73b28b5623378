import { useEffect, useMemo } from 'preact/hooks';
import type { ConditionHistory } from '../../worker/contract.ts';
import { Choice } from '../controls/Choice.tsx';
import { Picture } from '../pictures/Picture.tsx';
import { goBack, hashOf } from '../route.ts';
import type { WorkerClient } from '../worker-client.ts';
import { historyPictures } from './history-pictures.tsx';
import { createProgressModel, type ProgressModel } from './progress-model.ts';
import './progress.css';

interface Props {
  readonly client: WorkerClient;
  /** null: one is to be chosen. */
  readonly player: string | null;
}

/** A player's measures over the weeks, each condition by itself. */
export function ProgressScreen({ client, player }: Props) {
  const model = useMemo(() => createProgressModel(client, player), [client, player]);
  useEffect(() => model.dispose, [model]);
  const trouble = model.trouble.value;
  return (
    <main class="page progress">
      <header class="progress-head">
        <a
          class="button"
          href={hashOf({ screen: 'start' })}
          onClick={(event) => {
            if (goBack()) event.preventDefault();
          }}
        >
          Back
        </a>
        <h1>{player === null ? 'Progress' : `${player}: progress`}</h1>
      </header>
      {trouble !== null && (
        <p class="notice" role="alert">
          {trouble}
        </p>
      )}
      {player !== null && <History player={player} model={model} />}
      <Players player={player} model={model} />
    </main>
  );
}

function Players({ player, model }: Pick<Props, 'player'> & { readonly model: ProgressModel }) {
  const others = model.players.value?.filter((name) => name !== player) ?? null;
  if (others === null) return null;
  if (others.length === 0)
    return player === null ? <p class="soft">No set is stored on this device yet.</p> : null;
  return (
    <nav class="progress-players" aria-labelledby="progress-players-title">
      <h2 id="progress-players-title">{player === null ? 'Choose a player' : 'Other players'}</h2>
      <ul>
        {others.map((name) => (
          <li key={name}>
            <a class="button" href={hashOf({ screen: 'progress', player: name })}>
              {name}
            </a>
          </li>
        ))}
      </ul>
    </nav>
  );
}

function History({ player, model }: { readonly player: string; readonly model: ProgressModel }) {
  const conditions = model.conditions.value;
  if (conditions === null) return model.trouble.value === null ? <Reading model={model} /> : null;
  const history = conditions[model.chosen.value];
  if (history === undefined)
    return <p role="status">No set of {player} is stored on this device.</p>;
  return (
    <>
      {conditions.length > 1 && (
        <Choice
          name="condition"
          legend="Played with"
          stacked
          options={conditions.map((found, i) => ({
            value: String(i),
            label: `${conditionWords(found)} · ${countWords(found)}`,
          }))}
          value={String(model.chosen.value)}
          onChange={(value) => model.choose(Number(value))}
        />
      )}
      <p>
        {conditions.length === 1 && `${conditionWords(history)} · ${countWords(history)}. `}
        Sets of one day count together. Only days with the same implement, ball and feed are held
        against each other.
      </p>
      <section class="progress-weeks" aria-labelledby="progress-weeks-title">
        <h2 id="progress-weeks-title">Over the weeks</h2>
        <div class="progress-grid">
          {historyPictures(history).map((spec) => (
            <Picture
              key={`${model.chosen.value} ${spec.id}`}
              spec={spec}
              fileStem={fileStem(player, history)}
            />
          ))}
        </div>
      </section>
    </>
  );
}

function Reading({ model }: { readonly model: ProgressModel }) {
  const progress = model.progress.value;
  return (
    <div class="progress-reading">
      <p role="status">
        {progress === null
          ? 'Looking for sets…'
          : `Reading set ${progress.read + 1} of ${progress.of}…`}
      </p>
      {progress !== null && (
        <progress aria-label="Sets read" max={progress.of} value={progress.read} />
      )}
    </div>
  );
}

function conditionWords({ implement, ball, feed }: ConditionHistory): string {
  return [implement, ball, feed].filter((word) => word !== '').join(', ');
}

function countWords({ days }: ConditionHistory): string {
  const swings = days.reduce((sum, day) => sum + day.swings, 0);
  return `${days.length} ${days.length === 1 ? 'day' : 'days'}, ${swings} swings`;
}

/** Names may hold anything; file names may not. */
function fileStem(player: string, { implement, ball }: ConditionHistory): string {
  return [player, implement, ball]
    .join('-')
    .toLowerCase()
    .replace(/[^\p{L}\p{N}]+/gu, '-');
}
