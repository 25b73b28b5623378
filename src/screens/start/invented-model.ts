import { computed, type ReadonlySignal, signal } from '@preact/signals';
import { filter, firstValueFrom } from 'rxjs';
import type { FromWorker, SetSummary } from '../../worker/contract.ts';
import type { WorkerClient } from '../worker-client.ts';
import { INVENTED_SETS, type InventedSet } from './invented-sets.ts';

/** Players to look around with, invented: their sets are fetched and brought in like any other file. */
export interface InventedModel {
  /** Those all of whose sets are on this device. */
  readonly here: ReadonlySignal<readonly string[]>;
  /** The set being brought in, from 1; null: none. */
  readonly progress: ReadonlySignal<{ readonly at: number; readonly of: number } | null>;
  /** What came of it, in words; null before. */
  readonly outcome: ReadonlySignal<string | null>;
  readonly trouble: ReadonlySignal<string | null>;
  bringIn(): void;
  /** What is not yet fetched stays where it is. */
  dispose(): void;
}

type Imported = Extract<FromWorker, { type: 'imported' | 'trouble' }>;

/** @param sets stored on this device; null while nobody knows @param fetchFile as the browser's `fetch` */
export function createInventedModel(
  client: WorkerClient,
  sets: ReadonlySignal<readonly SetSummary[] | null>,
  fetchFile: typeof fetch,
): InventedModel {
  const progress = signal<{ at: number; of: number } | null>(null);
  const outcome = signal<string | null>(null);
  const trouble = signal<string | null>(null);
  const leaving = new AbortController();
  const isHere = ({ setId }: InventedSet) => sets.value?.some((set) => set.setId === setId);
  const here = computed(() => {
    const players = new Set(INVENTED_SETS.map(({ player }) => player));
    for (const set of INVENTED_SETS) if (!isHere(set)) players.delete(set.player);
    return [...players];
  });

  const fetchSet = async ({ setId, address }: InventedSet): Promise<File> => {
    const { signal } = leaving;
    const response = await fetchFile(address, { signal }).catch(noNetwork);
    if (!response.ok) throw new Error(`${setId}: status ${response.status}. ${INCOMPLETE}`);
    // It may break off half way.
    return new File([await response.blob().catch(noNetwork)], `${setId}.mcap`);
  };
  /** @returns whether it is new here */
  const bringInOne = async (set: InventedSet): Promise<boolean> => {
    const file = await fetchSet(set);
    const answered = firstValueFrom(client.messages$.pipe(filter(isAnswer)));
    client.post({ type: 'import-files', files: [file] });
    const answer = await answered;
    if (answer.type === 'trouble') throw new Error(answer.trouble.message);
    const [refused] = answer.refused;
    if (refused !== undefined) throw new Error(`${refused.fileName}: ${refused.reason}`);
    return answer.stored > 0;
  };
  const bringInAll = async (): Promise<void> => {
    const missing = INVENTED_SETS.filter((set) => !isHere(set));
    let added = 0;
    for (const [i, set] of missing.entries()) {
      progress.value = { at: i + 1, of: missing.length };
      if (await bringInOne(set)) added++;
    }
    outcome.value =
      added === 0
        ? 'All of them are here already: nothing was added.'
        : `${added} ${added === 1 ? 'set' : 'sets'} brought in, marked as simulated.`;
  };
  return {
    here,
    progress,
    outcome,
    trouble,
    bringIn: () => {
      if (progress.value !== null) return;
      outcome.value = trouble.value = null;
      bringInAll()
        .catch((error: Error) => {
          trouble.value = error.message;
        })
        .finally(() => {
          progress.value = null;
        });
    },
    dispose: () => leaving.abort(),
  };
}

const NO_NETWORK =
  'The invented players could not be fetched: that needs the network, the first time. Try again when there is one; everything else works without.';
const INCOMPLETE = 'The server has only part of this program; whoever runs it can mend that.';

function noNetwork(): never {
  throw new Error(NO_NETWORK);
}

function isAnswer(message: FromWorker): message is Imported {
  return message.type === 'imported' || message.type === 'trouble';
}
