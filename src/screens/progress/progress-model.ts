import { type ReadonlySignal, signal } from '@preact/signals';
import type { ConditionHistory, FromWorker } from '../../worker/contract.ts';
import type { WorkerClient } from '../worker-client.ts';

/** The weeks of one player, or the choice of one, as the screen sees them. */
export interface ProgressModel {
  /** Who has played, latest first; null until the worker has answered. */
  readonly players: ReadonlySignal<readonly string[] | null>;
  /** null until all sets have been read. */
  readonly conditions: ReadonlySignal<readonly ConditionHistory[] | null>;
  /** Sets read so far, of how many; null before the first. */
  readonly progress: ReadonlySignal<{ readonly read: number; readonly of: number } | null>;
  /** Place of the condition looked at. */
  readonly chosen: ReadonlySignal<number>;
  readonly trouble: ReadonlySignal<string | null>;
  choose(condition: number): void;
  dispose(): void;
}

/** Asks the worker for everybody who has played, and for the history of one of them. @param player null: only who there is */
export function createProgressModel(client: WorkerClient, player: string | null): ProgressModel {
  const players = signal<readonly string[] | null>(null);
  const conditions = signal<readonly ConditionHistory[] | null>(null);
  const progress = signal<{ read: number; of: number } | null>(null);
  const chosen = signal(0);
  const trouble = signal<string | null>(null);
  const take = (message: FromWorker): void => {
    switch (message.type) {
      case 'sets':
        players.value = [...new Set(message.sets.map((set) => set.player))];
        return;
      case 'history-progress':
        if (message.player === player) progress.value = { read: message.read, of: message.of };
        return;
      case 'player-history':
        if (message.player === player) conditions.value = message.conditions;
        return;
      case 'trouble':
        trouble.value = message.trouble.message;
    }
  };
  const subscription = client.messages$.subscribe(take);
  client.post({ type: 'list-sets' });
  if (player !== null) client.post({ type: 'read-history', player });
  return {
    players,
    conditions,
    progress,
    chosen,
    trouble,
    choose: (condition) => {
      chosen.value = condition;
    },
    dispose: () => subscription.unsubscribe(),
  };
}
