import { expect, it } from 'vitest';
import { firstCondition } from '../../src/core/recording/conditions.ts';
import type { FromWorker, SetSummary } from '../../src/worker/contract.ts';
import type { SetPipeline, SetStorage } from '../../src/worker/set-ports.ts';
import { StoredSets, summarise } from '../../src/worker/stored-sets.ts';
import { sampleDescription } from '../recording/sample-set.ts';

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

it('has each kit of a set with several once, and none of a set with one', () => {
  const own = firstCondition(sampleDescription);
  const other = { ...own, implement: 'another racket' };
  const kitsOf = (blocks: (typeof own)[]) => summarise(sampleDescription, 100, 3, blocks).kits;
  expect(kitsOf([own, other, other, own])).toEqual([
    { implement: own.implement, ball: own.ball },
    { implement: 'another racket', ball: own.ball },
  ]);
  expect(kitsOf([own, { ...own, feed: 'higher' }])).toBeUndefined();
});
