import { computed, type ReadonlySignal, signal } from '@preact/signals';
import { type PlayerRow, watchLibrary } from '../library-model.ts';
import type { WorkerClient } from '../worker-client.ts';
import { entryOfPlayer, NEW_PLAYER, type PlayerEntry, playerOfEntry } from './player-entry.ts';

/** The form of one player while it is open. */
export interface OpenForm {
  readonly entry: PlayerEntry;
  /** A known player keeps the name that the sets have. */
  readonly isKnown: boolean;
}

/** Who plays: one of those known, or somebody new. */
export interface PlayerModel {
  /** null until the worker has answered. Latest first. */
  readonly players: ReadonlySignal<readonly PlayerRow[] | null>;
  /** null while the list is shown. */
  readonly form: ReadonlySignal<OpenForm | null>;
  /** What is wrong with the form, in words. */
  readonly problem: ReadonlySignal<string | null>;
  readonly trouble: ReadonlySignal<string | null>;
  /** Plays the next set; without consent the form opens instead. */
  choose(player: PlayerRow): void;
  edit(player: PlayerRow): void;
  enterNew(): void;
  change(part: Partial<PlayerEntry>): void;
  /** Keeps the player; with consent they play the next set. */
  save(): void;
  /** Back to the list, nothing kept. */
  leave(): void;
  /** The open player and all their sets, for good. */
  deletePlayer(): void;
  dispose(): void;
}

interface Sources {
  readonly client: WorkerClient;
  /** What comes after somebody has been chosen. */
  readonly onChosen: (player: PlayerRow) => void;
  /** Milliseconds since 1970 (UTC). */
  readonly nowMs: () => number;
}

/** Makes the model of the Player screen. */
export function createPlayerModel({ client, onChosen, nowMs }: Sources): PlayerModel {
  const { library, trouble, dispose } = watchLibrary(client);
  const opened = signal<OpenForm | null>(null);
  const players = computed(() => library.value?.players ?? null);
  // Where nobody is known there is nothing to choose from.
  const form = computed(
    () =>
      opened.value ?? (players.value?.length === 0 ? { entry: NEW_PLAYER, isKnown: false } : null),
  );
  const problem = computed(() => {
    if (form.value === null || form.value.isKnown) return null;
    const name = form.value.entry.player.trim();
    const isTaken = players.value?.some(({ player }) => player === name) ?? false;
    return isTaken ? `There is a player ${name} already: choose them, or another name.` : null;
  });
  const edit = (player: PlayerRow): void => {
    opened.value = { entry: entryOfPlayer(player), isKnown: true };
  };
  return {
    players,
    form,
    problem,
    trouble,
    dispose,
    edit,
    choose: (player) => (player.consentOn === undefined ? edit(player) : onChosen(player)),
    enterNew: () => {
      opened.value = { entry: NEW_PLAYER, isKnown: false };
    },
    change: (part) => {
      if (form.value === null) return;
      const { entry, isKnown } = form.value;
      opened.value = { entry: { ...entry, ...part }, isKnown };
    },
    save: () => {
      if (form.value === null || problem.value !== null) return;
      const player = playerOfEntry(form.value.entry, nowMs());
      client.post({ type: 'keep-player', player });
      opened.value = null;
      // Whether storage has room or not: the set takes the player along.
      if (player.consentOn !== undefined) onChosen(player);
    },
    leave: () => {
      opened.value = null;
    },
    deletePlayer: () => {
      if (form.value === null) return;
      client.post({ type: 'delete-player', player: form.value.entry.player });
      opened.value = null;
    },
  };
}
