import { type ReadonlySignal, signal } from '@preact/signals';
import type { RecoveredSet, SetSummary } from '../../worker/contract.ts';
import { saveFile } from '../controls/save-file.ts';
import type { WorkerClient } from '../worker-client.ts';

/** What the Start screen shows of stored sets. */
export interface StartModel {
  /** null until the worker has answered. Newest first. */
  readonly sets: ReadonlySignal<readonly SetSummary[] | null>;
  /** What was saved of sets that were never ended, in words; null when there are none. */
  readonly recovered: ReadonlySignal<string | null>;
  readonly trouble: ReadonlySignal<string | null>;
  save(setId: string): void;
  dispose(): void;
}

/** Asks for the list of sets and keeps it fresh. */
export function createStartModel(client: WorkerClient): StartModel {
  const sets = signal<readonly SetSummary[] | null>(null);
  const recovered = signal<string | null>(null);
  const trouble = signal<string | null>(null);
  const wanted = new Set<string>();
  const subscription = client.messages$.subscribe((message) => {
    if (message.type === 'sets') {
      sets.value = [...message.sets].sort((a, b) => b.startedAtMs - a.startedAtMs);
    } else if (message.type === 'recovered') {
      recovered.value = recoveredWords(message.sets);
    } else if (message.type === 'set-ended') {
      client.post({ type: 'list-sets' });
    } else if (message.type === 'set-file' && wanted.delete(message.setId)) {
      saveFile(message.fileName, [message.bytes]);
    } else if (message.type === 'trouble') {
      trouble.value = message.trouble.message;
    }
  });
  client.post({ type: 'list-sets' });
  return {
    sets,
    recovered,
    trouble,
    save: (setId) => {
      wanted.add(setId);
      client.post({ type: 'export-set', setId });
    },
    dispose: () => subscription.unsubscribe(),
  };
}

/** For instance '1 set was interrupted; 23 swings up to 2:41 recovered.' */
export function recoveredWords(sets: readonly RecoveredSet[]): string {
  const parts = sets.map(({ swings, untilUs }) => {
    const seconds = Math.floor(untilUs / 1e6);
    const upTo = `${Math.floor(seconds / 60)}:${String(seconds % 60).padStart(2, '0')}`;
    return `${swings} ${swings === 1 ? 'swing' : 'swings'} up to ${upTo}`;
  });
  const interrupted = sets.length === 1 ? '1 set was' : `${sets.length} sets were`;
  return `${interrupted} interrupted; ${parts.join(' and ')} recovered.`;
}
