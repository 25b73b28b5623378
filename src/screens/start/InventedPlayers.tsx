import { hashOf } from '../route.ts';
import type { InventedModel } from './invented-model.ts';

interface Props {
  readonly model: InventedModel;
  readonly isDisabled: boolean;
}

/** Brings invented players in, and says where to look first. */
export function InventedPlayers({ model, isDisabled }: Props) {
  const progress = model.progress.value;
  const here = model.here.value;
  const trouble = model.trouble.value;
  const words =
    progress === null
      ? model.outcome.value
      : `Fetching and checking set ${progress.at} of ${progress.of}…`;
  return (
    <section class="invented" aria-label="Invented players">
      <button type="button" disabled={isDisabled || progress !== null} onClick={model.bringIn}>
        Bring in three invented players
      </button>
      <p class="soft" role="status">
        {words ??
          'Ready-made sets with two rackets each, to look around in. 8\u00a0MB, fetched once.'}
      </p>
      {trouble !== null && (
        <p class="notice" role="alert">
          {trouble}
        </p>
      )}
      {here.length > 0 && (
        <nav class="invented-first" aria-label="Invented players side by side">
          <span>Look first, side by side: which racket serves whom?</span>
          {here.map((player) => (
            <a key={player} class="button" href={hashOf({ screen: 'side-by-side', player })}>
              {player.replace(' (invented)', '')}
            </a>
          ))}
        </nav>
      )}
    </section>
  );
}
