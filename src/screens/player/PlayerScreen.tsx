import { useEffect, useMemo } from 'preact/hooks';
import { chosenPlayer } from '../chosen-player.ts';
import { StepHead } from '../controls/StepHead.tsx';
import { goTo } from '../route.ts';
import type { WorkerClient } from '../worker-client.ts';
import { PlayerForm } from './PlayerForm.tsx';
import { PlayerList } from './PlayerList.tsx';
import { createPlayerModel } from './player-model.ts';
import './player.css';

/** Who plays the next set. */
export function PlayerScreen({ client }: { readonly client: WorkerClient }) {
  const model = useMemo(
    () =>
      createPlayerModel({
        client,
        nowMs: Date.now,
        onChosen: (player) => {
          chosenPlayer.value = player;
          goTo({ screen: 'plan' });
        },
      }),
    [client],
  );
  useEffect(() => model.dispose, [model]);
  const form = model.form.value;
  const trouble = model.trouble.value;
  return (
    <main class="page player">
      <StepHead
        back={{ screen: 'start' }}
        backWords="Start"
        title={form === null ? 'Who plays?' : form.isKnown ? 'Player' : 'New player'}
      />
      {trouble !== null && (
        <p class="notice" role="alert">
          {trouble}
        </p>
      )}
      {form === null ? <PlayerList model={model} /> : <PlayerForm model={model} form={form} />}
    </main>
  );
}
