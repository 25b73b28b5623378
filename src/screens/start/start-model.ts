import { type ReadonlySignal, signal } from '@preact/signals';
import type { SetSummary } from '../../worker/contract.ts';
import { saveFile } from '../controls/save-file.ts';
import type { WorkerClient } from '../worker-client.ts';

/** What the Start screen shows of stored sets. */
export interface StartModel {
  /** null until the worker has answered. Newest first. */
  readonly sets: ReadonlySignal<readonly SetSummary[] | null>;
  readonly trouble: ReadonlySignal<string | null>;
  save(setId: string): void;
  dispose(): void;
}

/** Asks for the list of sets and keeps it fresh. */
export function createStartModel(client: WorkerClient): StartModel {
  const sets = signal<readonly SetSummary[] | null>(null);
  const trouble = signal<string | null>(null);
  const wanted = new Set<string>();
  const subscription = client.messages$.subscribe((message) => {
    if (message.type === 'sets') {
      sets.value = [...message.sets].sort((a, b) => b.startedAtMs - a.startedAtMs);
    } else if (message.type === 'set-ended') {
      client.post({ type: 'list-sets' });
    } else if (message.type === 'set-file' && wanted.delete(message.setId)) {
      saveFile(message.fileName, message.bytes);
    } else if (message.type === 'trouble') {
      trouble.value = message.trouble.message;
    }
  });
  client.post({ type: 'list-sets' });
  return {
    sets,
    trouble,
    save: (setId) => {
      wanted.add(setId);
      client.post({ type: 'export-set', setId });
    },
    dispose: () => subscription.unsubscribe(),
  };
}
