import { useEffect, useMemo } from 'preact/hooks';
import { type PlayerRow, watchLibrary } from '../library-model.ts';
import type { WorkerClient } from '../worker-client.ts';
import type { CourtModel } from './court-model.ts';

/** What follows when a set is over. */
export type AfterSet = 'start' | 'reading' | PlayerRow;

interface Props {
  readonly model: CourtModel;
  readonly client: WorkerClient;
  readonly onEnd: (then: AfterSet) => void;
  readonly onBack: () => void;
}

/** Ends a set, or hands the sensors to the next player of the group: the same plan, and zeroed again. */
export function EndPanel({ model, client, onEnd, onBack }: Props) {
  const known = useMemo(() => watchLibrary(client), [client]);
  useEffect(() => known.dispose, [known]);
  const players = known.library.value?.players ?? [];
  const { source, player, plan } = model.description;
  // Whoever has not agreed to be recorded is asked on the Player screen first.
  const others = players.filter((row) => row.player !== player && row.consentOn !== undefined);
  return (
    <section class="panel" aria-label="End set">
      <h2>End this set?</h2>
      <p>Every swing so far is kept. A set that has ended cannot be continued.</p>
      <div class="panel-buttons">
        <button type="button" onClick={onBack}>
          Keep playing
        </button>
        <button type="button" onClick={() => onEnd('reading')}>
          End, then see its pictures
        </button>
        <button type="button" class="primary" onClick={() => onEnd('start')}>
          End, back to Start
        </button>
      </div>
      {source === 'sensors' && plan !== undefined && others.length > 0 && (
        <>
          <h3>Or the next player, same sensors and plan</h3>
          <ul class="panel-players">
            {others.map((row) => (
              <li key={row.player}>
                <button type="button" onClick={() => onEnd(row)}>
                  {row.player}
                </button>
              </li>
            ))}
          </ul>
        </>
      )}
    </section>
  );
}
