import { expect, it } from 'vitest';
import type { FromWorker, SetSummary } from '../../src/worker/contract.ts';
import type { SetPipeline, SetStorage } from '../../src/worker/set-ports.ts';
import { StoredSets } from '../../src/worker/stored-sets.ts';

const row = (setId: string, swings: number): SetSummary => ({
  setId,
  startedAtMs: 0,
  source: 'sensors',
  player: 'Heron',
  implement: 'bat',
  ball: 'soft',
  swings,
  sizeBytes: 100,
});

/** @param known as the catalogue has them; null when it does not know all @param read as the files say */
async function listed(known: readonly SetSummary[] | null, read: readonly SetSummary[]) {
  const posted: FromWorker[] = [];
  const storage: Partial<SetStorage> = {
    list: async (_, tell) => {
      if (known !== null) tell(known);
      return read;
    },
  };
  const none = {} as SetPipeline;
  const sets = new StoredSets((message) => posted.push(message), storage as SetStorage, none);
  await sets.list();
  return posted.map((message) => (message.type === 'sets' ? message.sets : message));
}

it('posts what the catalogue knows once, when the files agree', async () => {
  expect(await listed([row('a', 3)], [row('a', 3)])).toEqual([[row('a', 3)]]);
});

it('posts the list again when a file says otherwise', async () => {
  expect(await listed([row('a', 3)], [row('a', 4)])).toEqual([[row('a', 3)], [row('a', 4)]]);
});

it('waits for the files when the catalogue does not know all of them', async () => {
  expect(await listed(null, [row('a', 3)])).toEqual([[row('a', 3)]]);
  expect(await listed(null, [])).toEqual([[]]);
});
