import { Mark } from '../controls/Mark.tsx';
import type { PlayerRow } from '../library-model.ts';
import { dayWords } from './consent.ts';
import type { PlayerModel } from './player-model.ts';

/** Everybody known, latest first: one tap and they play. */
export function PlayerList({ model }: { readonly model: PlayerModel }) {
  const players = model.players.value;
  return (
    <section class="player-list">
      {players === null && <p class="soft">Looking…</p>}
      {players !== null && (
        <ul>
          {players.map((player) => (
            <li key={player.player}>
              <button type="button" class="player-choice" onClick={() => model.choose(player)}>
                <b>{player.player}</b>
                <ConsentWords player={player} />
              </button>
              <button type="button" onClick={() => model.edit(player)}>
                Edit<span class="out-of-sight"> {player.player}</span>
              </button>
            </li>
          ))}
        </ul>
      )}
      <button type="button" class="player-new" onClick={model.enterNew}>
        New player
      </button>
    </section>
  );
}

function ConsentWords({ player: { handedness, consentOn } }: { readonly player: PlayerRow }) {
  const hand = handedness === 'left' ? 'Left hand' : 'Right hand';
  return consentOn === undefined ? (
    <span>
      {hand}, <Mark kind="trouble" sizePx={14} /> no consent yet
    </span>
  ) : (
    <span class="soft">
      {hand}, consent {dayWords(consentOn)}
    </span>
  );
}
