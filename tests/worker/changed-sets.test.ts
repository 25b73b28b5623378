import { unzipSync, zipSync } from 'fflate';
import { beforeEach, describe, expect, it } from 'vitest';
import { readSet } from '../../src/core/recording/set-reader.ts';
import type { SetEvent } from '../../src/core/recording/set-record.ts';
import type { Library } from '../../src/storage/library-rows.ts';
import { StorageError } from '../../src/storage/storage-error.ts';
import type { FromWorker, SetSummary, ToWorker } from '../../src/worker/contract.ts';
import type { SetPipeline, SetStorage } from '../../src/worker/set-ports.ts';
import { SetSession } from '../../src/worker/set-session.ts';
import { sampleDescription, sampleRecords, setFile } from '../recording/sample-set.ts';

/** Storage in memory; `isFull` makes it fail as a full disk does. */
function memoryStorage() {
  const files = new Map<string, Uint8Array>();
  const full = () => new StorageError('storage-full', 'The storage of this device is full.');
  const storage = {
    files,
    isFull: false,
    async create(setId: string) {
      files.set(setId, new Uint8Array(0));
      return {
        append: (part: Uint8Array) => {
          const before = files.get(setId)!;
          const written = storage.isFull ? part.subarray(0, 3) : part;
          files.set(setId, Uint8Array.from([...before, ...written]));
          if (storage.isFull) throw full();
        },
        flush: () => {},
        read: () => files.get(setId)!.slice(),
        close: () => {},
      };
    },
    async read(setId: string) {
      const bytes = files.get(setId);
      if (bytes === undefined) throw new StorageError('set-unreadable', 'There is no such file.');
      return bytes.slice();
    },
    async changeTail(setId: string, { keptBytes, tail }: { keptBytes: number; tail: Uint8Array }) {
      if (storage.isFull) throw full();
      files.set(setId, Uint8Array.from([...files.get(setId)!.subarray(0, keptBytes), ...tail]));
    },
    async remove(setId: string) {
      files.delete(setId);
    },
    async list(
      summarise: (file: { setId: string; sizeBytes: number }) => Promise<SetSummary | null>,
    ) {
      storage.listings++;
      const rows: SetSummary[] = [];
      for (const [setId, bytes] of files) {
        const row = await summarise({ setId, sizeBytes: bytes.length });
        if (row !== null) rows.push(row);
      }
      return rows;
    },
    async remember() {},
    listings: 0,
    learnt: [] as Library[],
    forgotten: [] as string[],
    async keepState() {},
    async keptState() {
      return undefined;
    },
    async library() {
      return { players: [], implements: [], balls: [] };
    },
    async learn(told: Library) {
      storage.learnt.push(told);
    },
    async keepPlayer() {},
    async forgetPlayer(player: string) {
      storage.forgotten.push(player);
    },
  };
  return storage satisfies SetStorage;
}

/** What the session does with numbers does not matter here. */
const noPipeline: SetPipeline = {
  build: 'test',
  resume: () => {
    throw new Error('nothing was kept');
  },
  start: () => ({
    step: () => {},
    finished: () => null,
    view: () => ({ swings: [], blocks: [] }) as never,
    review: () => ({ swings: [], blocks: [] }) as never,
    measures: () => [],
    swingsLike: () => [],
    trace: () => null,
  }),
};

let posted: FromWorker[];
let storage: ReturnType<typeof memoryStorage>;
let session: SetSession;
const send = (message: ToWorker) => session.receive(message);

function of<T extends FromWorker['type']>(type: T) {
  return posted.filter(
    (message): message is Extract<FromWorker, { type: T }> => message.type === type,
  );
}

const troubles = () => of('trouble').map(({ trouble }) => trouble);

function fileOf(setId: string, player = 'Player A'): Uint8Array {
  return setFile(sampleRecords, { ...sampleDescription, setId, player });
}

const asFile = (name: string, bytes: Uint8Array) => new File([Uint8Array.from(bytes)], name);

beforeEach(() => {
  posted = [];
  storage = memoryStorage();
  session = new SetSession((message) => posted.push(message), storage, noPipeline);
});

const DISCARD: SetEvent = { type: 'discarded', contactTimeUs: 2e6, reason: 'net' };

describe('an edit', () => {
  it('is in the file, and the set is read anew', async () => {
    storage.files.set('a', fileOf('a'));
    await send({ type: 'edit-set', setId: 'a', events: [DISCARD] });
    const result = readSet(storage.files.get('a')!);
    expect(result.ok && result.set.complete).toBe(true);
    expect(result.ok && result.set.records.at(-1)).toMatchObject({ event: DISCARD });
    expect(of('opened-set')).toHaveLength(1);
    expect(troubles()).toEqual([]);
  });

  it('that storage refuses changes nothing, and says so', async () => {
    const before = fileOf('a');
    storage.files.set('a', before);
    storage.isFull = true;
    await send({ type: 'edit-set', setId: 'a', events: [DISCARD] });
    expect(storage.files.get('a')).toEqual(before);
    expect(troubles()[0]).toMatchObject({ code: 'storage-full' });
  });

  it('reaches a set that lives in memory only', async () => {
    const failing = memoryStorage();
    failing.create = async () => {
      throw new StorageError('storage-unavailable', 'No storage.');
    };
    storage = failing;
    session = new SetSession((message) => posted.push(message), failing, noPipeline);
    await send({ type: 'begin-set', description: sampleDescription });
    await send({ type: 'end-set' });
    const { setId } = sampleDescription;
    await send({ type: 'edit-set', setId, events: [DISCARD] });
    await send({ type: 'export-set', setId });
    const result = readSet(of('set-file')[0]!.bytes);
    expect(result.ok && result.set.complete).toBe(true);
    expect(result.ok && result.set.records.at(-1)).toMatchObject({ event: DISCARD });
  });
});

describe('what would hold up a running set', () => {
  it('waits until it has ended', async () => {
    await send({ type: 'begin-set', description: sampleDescription });
    await send({ type: 'delete-player', player: sampleDescription.player });
    await send({ type: 'export-all' });
    await send({ type: 'import-files', files: [asFile('b.mcap', fileOf('b'))] });
    expect(troubles().map(({ code }) => code)).toEqual([
      'not-changed',
      'not-changed',
      'not-changed',
    ]);
    expect([...storage.files.keys()]).toEqual([sampleDescription.setId]);
  });
});

describe('importing', () => {
  it('stores sound files, knows those it has, and says why it refuses the others', async () => {
    storage.files.set('known', fileOf('known'));
    storage.files.set('other', fileOf('other', 'Player B'));
    await send({
      type: 'import-files',
      files: [
        asFile('new.mcap', fileOf('new')),
        asFile('known.mcap', fileOf('known')),
        asFile('other.mcap', fileOf('other')),
        asFile('<script>.mcap', Uint8Array.of(1, 2, 3)),
        asFile('empty.mcap', new Uint8Array(0)),
      ],
    });
    const [imported] = of('imported');
    expect(imported).toMatchObject({ stored: 1, known: 1 });
    expect(imported!.refused.map(({ fileName }) => fileName)).toEqual([
      'other.mcap',
      '<script>.mcap',
      'empty.mcap',
    ]);
    expect(imported!.refused[0]!.reason).toMatch(/Another version of set 'other'/);
    expect(storage.files.get('new')).toEqual(fileOf('new'));
    expect(storage.files.get('other')).toEqual(fileOf('other', 'Player B'));
  });

  it('lists what is stored before and after, however many files there are', async () => {
    const names = ['a', 'b', 'c', 'd', 'a'];
    const files = names.map((setId) => asFile(`${setId}.mcap`, fileOf(setId)));
    await send({ type: 'import-files', files });
    expect(of('imported')).toEqual([{ type: 'imported', stored: 4, known: 1, refused: [] }]);
    expect(storage.listings).toBe(2);
  });

  it('leaves nothing half written when storage is full', async () => {
    storage.isFull = true;
    await send({ type: 'import-files', files: [asFile('new.mcap', fileOf('new'))] });
    expect(of('imported')[0]).toMatchObject({
      stored: 0,
      refused: [{ reason: expect.stringMatching(/full/) }],
    });
    expect(storage.files.size).toBe(0);
  });

  it('refuses a file larger than any set, and reads nothing of it', async () => {
    const file = Object.assign(asFile('huge.mcap', fileOf('huge')), {
      arrayBuffer: () => Promise.reject(new Error('it was read')),
    });
    Object.defineProperty(file, 'size', { value: 2 ** 29 + 1 });
    await send({ type: 'import-files', files: [file] });
    expect(of('imported')[0]).toMatchObject({
      stored: 0,
      refused: [{ fileName: 'huge.mcap', reason: expect.stringMatching(/larger than 512 MB/) }],
    });
  });

  it.each([
    ['no archive', Uint8Array.of(80, 75, 9, 9, 9)],
    ['an empty one', zipSync({})],
    ['one cut off', zipSync({ 'a.mcap': [fileOf('a'), { level: 0 }] }).subarray(0, 400)],
  ])('refuses %s without storing anything', async (_, bytes) => {
    await send({ type: 'import-files', files: [asFile('sets.zip', bytes)] });
    expect(of('imported')[0]).toMatchObject({ stored: 0, refused: [{ fileName: 'sets.zip' }] });
    expect(storage.files.size).toBe(0);
  });
});

describe('an archive of everything', () => {
  const archives = () => {
    const whole = new Map<string, number[]>();
    for (const { fileName, bytes } of of('file-part')) {
      whole.set(fileName, [...(whole.get(fileName) ?? []), ...bytes]);
    }
    return [...whole].map(([name, bytes]) => asFile(name, Uint8Array.from(bytes)));
  };

  it('brings a fresh device to the same files', async () => {
    for (const id of ['a', 'b', 'c']) storage.files.set(id, fileOf(id));
    await send({ type: 'export-all' });
    expect(of('file-part').at(-1)).toMatchObject({ isLast: true });
    const files = archives();
    expect(files.map(({ name }) => name)).toEqual(['reach-funnel-sets.zip']);
    // as another program reads it
    const entries = unzipSync(new Uint8Array(await files[0]!.arrayBuffer()));
    expect(Object.keys(entries)).toEqual(['a.mcap', 'b.mcap', 'c.mcap']);
    const before = storage.files;
    storage = memoryStorage();
    session = new SetSession((message) => posted.push(message), storage, noPipeline);
    await send({ type: 'import-files', files });
    expect(of('imported')[0]).toMatchObject({ stored: 3, known: 0, refused: [] });
    expect(storage.files).toEqual(before);
  });

  it('packed with compression by another program is read too', async () => {
    const archive = zipSync({ 'sets/a.mcap': fileOf('a'), 'sets/b.mcap': fileOf('b') });
    await send({ type: 'import-files', files: [asFile('mine.ZIP', archive)] });
    expect(of('imported')[0]).toMatchObject({ stored: 2, refused: [] });
  });
});

describe('deleting a player', () => {
  it('removes every set of theirs and nobody else', async () => {
    storage.files.set('a1', fileOf('a1', 'Player A'));
    storage.files.set('b1', fileOf('b1', 'Player B'));
    storage.files.set('a2', fileOf('a2', 'Player A'));
    await send({ type: 'delete-player', player: 'Player A' });
    expect(of('player-deleted')).toEqual([{ type: 'player-deleted', player: 'Player A', sets: 2 }]);
    expect([...storage.files.keys()]).toEqual(['b1']);
    expect(storage.forgotten).toEqual(['Player A']);
    expect(
      of('sets')
        .at(-1)!
        .sets.map(({ setId }) => setId),
    ).toEqual(['b1']);
  });
});
