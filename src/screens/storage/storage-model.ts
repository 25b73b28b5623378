import { type ReadonlySignal, signal } from '@preact/signals';
import type { FromWorker, RefusedFile, SetSummary } from '../../worker/contract.ts';
import { createFileGatherer } from '../controls/gather-file.ts';
import type { WorkerClient } from '../worker-client.ts';

/** How much of this device the program uses. */
export interface StorageSpace {
  readonly usedBytes: number;
  /** What the browser would give it. */
  readonly quotaBytes: number;
  /** false: the browser may clear it when space runs short. */
  readonly isKept: boolean;
}

/** One player as far as their sets go. */
export interface StoredPlayer {
  readonly player: string;
  readonly sets: number;
  readonly bytes: number;
}

/** What the last thing that was asked for came to. */
export interface Outcome {
  readonly words: string;
  readonly refused: readonly RefusedFile[];
}

/** Space, what leaves and enters this device, and what is deleted. */
export interface StorageModel {
  /** null until the browser has answered, or when it does not say. */
  readonly space: ReadonlySignal<StorageSpace | null>;
  /** null until the worker has answered; by name. */
  readonly players: ReadonlySignal<readonly StoredPlayer[] | null>;
  readonly outcome: ReadonlySignal<Outcome | null>;
  readonly trouble: ReadonlySignal<string | null>;
  /** Something is being read or written. */
  readonly isBusy: ReadonlySignal<boolean>;
  keep(): void;
  saveAll(): void;
  bringIn(files: readonly File[]): void;
  deletePlayer(player: string): void;
  dispose(): void;
}

/** @param storage of the browser; undefined in private windows and old ones */
export function createStorageModel(
  client: WorkerClient,
  storage: StorageManager | undefined,
): StorageModel {
  const space = signal<StorageSpace | null>(null);
  const players = signal<readonly StoredPlayer[] | null>(null);
  const outcome = signal<Outcome | null>(null);
  const trouble = signal<string | null>(null);
  const isBusy = signal(false);

  const measure = async (): Promise<void> => {
    if (storage === undefined) return;
    const [{ usage, quota }, isKept] = await Promise.all([storage.estimate(), storage.persisted()]);
    if (usage === undefined || quota === undefined) return;
    space.value = { usedBytes: usage, quotaBytes: quota, isKept };
  };
  const finish = (words: string, refused: readonly RefusedFile[] = []): void => {
    isBusy.value = false;
    outcome.value = { words, refused };
    void measure();
  };
  const ask = (start: () => void): void => {
    outcome.value = null;
    trouble.value = null;
    isBusy.value = true;
    start();
  };
  const takePart = createFileGatherer((fileName) =>
    finish(`Saved as ${fileName}. Check that it is there before anything is deleted.`),
  );

  const subscription = client.messages$.subscribe((message) => {
    if (message.type === 'sets') players.value = playersOf(message.sets);
    else if (message.type === 'file-part') takePart(message);
    else if (message.type === 'imported') finish(importWords(message), message.refused);
    else if (message.type === 'player-deleted') {
      finish(`${message.player}: ${setWords(message.sets)} deleted for good.`);
    } else if (message.type === 'trouble') {
      trouble.value = message.trouble.message;
      isBusy.value = false;
    }
  });
  client.post({ type: 'list-sets' });
  void measure();
  return {
    space,
    players,
    outcome,
    trouble,
    isBusy,
    keep: () => void storage?.persist().then(measure),
    saveAll: () => ask(() => client.post({ type: 'export-all' })),
    bringIn: (files) => ask(() => client.post({ type: 'import-files', files })),
    deletePlayer: (player) => ask(() => client.post({ type: 'delete-player', player })),
    dispose: () => subscription.unsubscribe(),
  };
}

function playersOf(sets: readonly SetSummary[]): readonly StoredPlayer[] {
  const found = new Map<string, StoredPlayer>();
  for (const { player, sizeBytes } of sets) {
    const before = found.get(player) ?? { player, sets: 0, bytes: 0 };
    found.set(player, { player, sets: before.sets + 1, bytes: before.bytes + sizeBytes });
  }
  return [...found.values()].sort((a, b) => a.player.localeCompare(b.player));
}

function importWords({
  stored,
  known,
  refused,
}: Extract<FromWorker, { type: 'imported' }>): string {
  const parts = [
    `${setWords(stored)} brought in`,
    ...(known > 0 ? [`${known} known already`] : []),
    ...(refused.length > 0 ? [`${refused.length} refused`] : []),
  ];
  return `${parts.join(', ')}.`;
}

/** A number of sets in words. */
export function setWords(sets: number): string {
  return sets === 1 ? '1 set' : `${sets} sets`;
}
