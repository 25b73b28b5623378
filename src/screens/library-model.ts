import { type ReadonlySignal, signal } from '@preact/signals';
import type { FromWorker } from '../worker/contract.ts';
import type { WorkerClient } from './worker-client.ts';

/** Players and kit of earlier sets, latest first. */
export type Library = Extract<FromWorker, { type: 'library' }>['library'];
/** A player as the library has them. */
export type PlayerRow = Library['players'][number];

/** What is known of players and kit, kept fresh. */
export interface LibraryModel {
  /** null until the worker has answered, and where storage is forbidden. */
  readonly library: ReadonlySignal<Library | null>;
  /** A problem of storage, in words. */
  readonly trouble: ReadonlySignal<string | null>;
  dispose(): void;
}

/** Asks the worker for the library and follows its changes. */
export function watchLibrary(client: WorkerClient): LibraryModel {
  const library = signal<Library | null>(null);
  const trouble = signal<string | null>(null);
  const subscription = client.messages$.subscribe((message) => {
    if (message.type === 'library') library.value = message.library;
    else if (message.type === 'player-deleted') client.post({ type: 'list-library' });
    else if (message.type === 'trouble') trouble.value = message.trouble.message;
  });
  client.post({ type: 'list-library' });
  return { library, trouble, dispose: () => subscription.unsubscribe() };
}
