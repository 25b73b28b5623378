import { beforeEach, expect, it } from 'vitest';
import type { SetEvent } from '../../src/core/recording/set-record.ts';
import type { KeptState } from '../../src/storage/kept-state.ts';
import { StorageError } from '../../src/storage/storage-error.ts';
import type { FromWorker, ToWorker } from '../../src/worker/contract.ts';
import type { PipelineRun, SetPipeline, SetStorage } from '../../src/worker/set-ports.ts';
import { SetSession } from '../../src/worker/set-session.ts';
import { sampleDescription, sampleRecords } from '../recording/sample-set.ts';

const { setId } = sampleDescription;
let bytes: Uint8Array;
let kept: KeptState | undefined;
let isFull: boolean;
let steps: number;
let starts: number;
let build: string;
let posted: FromWorker[];

const storage: SetStorage = {
  create: async () => {
    bytes = new Uint8Array(0);
    return {
      append: (part) => {
        bytes = Uint8Array.from([...bytes, ...part]);
      },
      flush: () => {},
      read: () => bytes,
      close: () => {},
    };
  },
  read: async () => bytes.slice(),
  changeTail: async (_, { keptBytes, tail }) => {
    bytes = Uint8Array.from([...bytes.subarray(0, keptBytes), ...tail]);
  },
  remove: async () => {},
  list: async () => [],
  remember: async () => {},
  library: async () => ({ players: [], implements: [], balls: [] }),
  learn: async () => {},
  keepPlayer: async () => {},
  forgetPlayer: async () => {},
  keepState: async (state) => {
    if (isFull) throw new StorageError('storage-full', 'Full.');
    kept = structuredClone(state);
  },
  keptState: async () => structuredClone(kept),
};

/** Counts what it takes in; its state is the count. */
function counting(count: number): PipelineRun {
  let taken = count;
  return {
    step: () => {
      steps++;
      taken++;
    },
    view: () => ({ swings: new Array(taken), blocks: [] }) as never,
    finished: () => taken,
    review: () => ({ swings: new Array(taken) }) as never,
    measures: () => [],
    swingsLike: () => [],
    trace: () => null,
  };
}

const pipeline: SetPipeline = {
  get build() {
    return build;
  },
  start: () => {
    starts++;
    return counting(0);
  },
  resume: (finished) => counting(finished as number),
};

let session: SetSession;
const send = (message: ToWorker) => session.receive(message);
const openedWith = () => {
  const opened = posted.filter((message) => message.type === 'opened-set').at(-1);
  return opened?.view.swings.length;
};
const EDIT: SetEvent = { type: 'score', contactTimeUs: 1e6, points: 2 };
const RECORDS = sampleRecords.length;

beforeEach(async () => {
  kept = undefined;
  isFull = false;
  build = 'one';
  posted = [];
  session = new SetSession((message) => posted.push(message), storage, pipeline);
  await send({ type: 'begin-set', description: sampleDescription });
  await send({ type: 'append', records: sampleRecords });
  await send({ type: 'end-set' });
  steps = 0;
  starts = 0;
});

it('a set that ended opens without its pipeline running again', async () => {
  await send({ type: 'open-set', setId });
  expect([starts, steps, openedWith()]).toEqual([0, 0, RECORDS]);
});

it('while its file is the same, not even its records are read', async () => {
  // what the file says is not what was kept, and is not asked
  kept = { ...kept!, description: { ...sampleDescription, player: 'as kept' } };
  await send({ type: 'open-set', setId });
  const opened = posted.find((message) => message.type === 'opened-set');
  expect(opened?.description.player).toBe('as kept');
});

it('a file that has changed is read, and what is wrong with it is told', async () => {
  bytes = bytes.slice(0, -40);
  await send({ type: 'open-set', setId });
  expect(posted).toContainEqual({
    type: 'trouble',
    trouble: expect.objectContaining({
      code: 'set-unreadable',
      message: expect.stringContaining('not whole'),
    }),
  });
});

it('what was said later is all that is taken in', async () => {
  await send({ type: 'edit-set', setId, events: [EDIT, EDIT] });
  expect([starts, steps, openedWith()]).toEqual([0, 2, RECORDS + 2]);
  // and is kept with the rest
  await send({ type: 'open-set', setId });
  expect([starts, steps, openedWith()]).toEqual([0, 2, RECORDS + 2]);
});

it('another program does not trust it, and keeps its own', async () => {
  build = 'two';
  await send({ type: 'open-set', setId });
  expect([starts, steps, openedWith()]).toEqual([1, RECORDS, RECORDS]);
  await send({ type: 'open-set', setId });
  expect(starts).toBe(1);
});

it('a state of more than the file holds, or of other records, is not taken', async () => {
  kept = { ...kept!, sha256: 'of another file', records: RECORDS + 5 };
  await send({ type: 'open-set', setId });
  expect([starts, openedWith()]).toEqual([1, RECORDS]);
  // the second record is no event
  kept = { ...kept, sha256: 'of another file', records: 1 };
  await send({ type: 'open-set', setId });
  expect([starts, openedWith()]).toEqual([2, RECORDS]);
});

it('without room for it the set opens all the same', async () => {
  kept = undefined;
  isFull = true;
  await send({ type: 'open-set', setId });
  expect([starts, openedWith()]).toEqual([1, RECORDS]);
  expect(posted.filter(({ type }) => type === 'trouble')).toEqual([]);
});
