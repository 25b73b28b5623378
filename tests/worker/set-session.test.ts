import { beforeEach, describe, expect, it } from 'vitest';
import type { LiveView } from '../../src/core/pipeline/outputs.ts';
import { readSet } from '../../src/core/recording/set-reader.ts';
import type { SetRecord } from '../../src/core/recording/set-record.ts';
import type { PlayerRow } from '../../src/storage/library-rows.ts';
import type { StoredFile } from '../../src/storage/set-files.ts';
import { StorageError } from '../../src/storage/storage-error.ts';
import type { FromWorker, SetSummary } from '../../src/worker/contract.ts';
import type { SetPipeline, SetStorage } from '../../src/worker/set-ports.ts';
import { SetSession } from '../../src/worker/set-session.ts';
import { sampleDescription, setFile } from '../recording/sample-set.ts';

/** Storage in memory that can be told to fail. */
class FakeStorage implements SetStorage {
  readonly files = new Map<string, number[]>();
  readonly rows = new Map<string, SetSummary>();
  readonly log: string[] = [];
  failAt: 'create' | 'append' | 'flush' | 'read' | 'keep-player' | null = null;

  #check(action: string): void {
    this.log.push(action);
    if (action === this.failAt) throw new StorageError('storage-full', `${action} failed.`);
  }

  async create(setId: string) {
    this.#check('create');
    const bytes: number[] = [];
    this.files.set(setId, bytes);
    return {
      append: (part: Uint8Array) => {
        // As a full disk: part of the record still gets written.
        if (this.failAt === 'append') bytes.push(...part.subarray(0, 7));
        this.#check('append');
        bytes.push(...part);
      },
      flush: () => this.#check('flush'),
      read: () => {
        this.#check('read');
        return Uint8Array.from(bytes);
      },
      close: () => this.#check('close'),
    };
  }

  async read(setId: string) {
    const bytes = this.files.get(setId);
    if (bytes === undefined) throw new StorageError('set-unreadable', 'There is no such file.');
    return Uint8Array.from(bytes);
  }

  async changeTail() {
    throw new Error('not asked for here');
  }

  async keepState() {}

  async keptState() {
    return undefined;
  }

  players: readonly PlayerRow[] = [];

  async library() {
    return { players: this.players, implements: [], balls: [] };
  }

  async learn() {}

  async keepPlayer(player: PlayerRow) {
    this.#check('keep-player');
    this.players = [...this.players, player];
  }

  async forgetPlayer() {}

  async remove(setId: string) {
    this.files.delete(setId);
  }

  async list(summarise: (file: StoredFile) => Promise<SetSummary | null>) {
    const rows: SetSummary[] = [];
    for (const [setId, bytes] of this.files) {
      const row = this.rows.get(setId) ?? (await summarise({ setId, sizeBytes: bytes.length }));
      if (row !== null) rows.push(row);
    }
    return rows;
  }

  async remember(summary: SetSummary) {
    this.rows.set(summary.setId, summary);
  }
}

/** A packet of this host time makes the measures fail after their first family. */
const UNMEASURABLE_US = 13_000;

/** Counts its records as swings, and fails at a note that says so. */
function countingPipeline(log: string[]): SetPipeline {
  return {
    build: 'test',
    resume: () => {
      throw new Error('nothing was kept');
    },
    start: () => {
      let steps = 0;
      let hostTimeUs = 0;
      return {
        finished: () => null,
        step: (record) => {
          log.push('step');
          if (record.kind === 'event' && record.event.type === 'note')
            throw new Error('step broke');
          steps += 1;
          hostTimeUs = record.hostTimeUs;
        },
        view: () =>
          ({ hostTimeUs, blocks: [], swings: Array(steps).fill({}) }) as unknown as LiveView,
        review: () =>
          ({ hostTimeUs, swings: Array(steps).fill({}), isReview: true }) as unknown as LiveView,
        swingsLike: () => [],
        trace: () => null,
        measures: function* () {
          yield { n: steps };
          if (hostTimeUs === UNMEASURABLE_US) throw new Error('measure broke');
          yield { angleN: steps };
        },
      };
    },
  };
}

function packet(hostTimeUs: number): SetRecord {
  return {
    kind: 'notification',
    segment: 'forearm',
    hostTimeUs,
    bytes: new Uint8Array(50).fill(hostTimeUs / 1000),
  };
}

let posted: FromWorker[];
let storage: FakeStorage;
let session: SetSession;

beforeEach(() => {
  posted = [];
  storage = new FakeStorage();
  session = new SetSession(
    (message) => posted.push(message),
    storage,
    countingPipeline(storage.log),
  );
});

const { setId } = sampleDescription;
const begin = () => session.receive({ type: 'begin-set', description: sampleDescription });
const append = (...records: SetRecord[]) => session.receive({ type: 'append', records });
const end = () => session.receive({ type: 'end-set' });

function of<T extends FromWorker['type']>(type: T) {
  return posted.filter(
    (message): message is Extract<FromWorker, { type: T }> => message.type === type,
  );
}

function stored(bytes: Uint8Array | readonly number[]) {
  const result = readSet(Uint8Array.from(bytes));
  if (!result.ok) throw new Error(result.error.message);
  return result.set;
}

async function exported() {
  await session.receive({ type: 'export-set', setId });
  return stored(of('set-file').at(-1)!.bytes);
}

const ended = (hostTimeUs: number): SetRecord => ({
  kind: 'event',
  hostTimeUs,
  event: { type: 'set-ended' },
});

describe('a player who has not played yet', () => {
  const player: PlayerRow = {
    player: 'Heron',
    handedness: 'left',
    consentOn: '2026-05-31',
    upperArmM: 0.25,
    forearmM: 0.2,
    upperArmSensorM: 0.15,
    forearmSensorM: 0.14,
    seenMs: 1,
  };

  it('is kept, and told with the others, also while a set runs', async () => {
    await session.receive({ type: 'keep-player', player });
    expect(of('library').at(-1)?.library.players).toEqual([player]);
    await begin();
    await append(packet(1000));
    storage.log.length = 0;
    await session.receive({ type: 'keep-player', player: { ...player, player: 'Otter' } });
    expect(of('library').at(-1)?.library.players).toHaveLength(2);
    expect(storage.log, 'the files stay alone').toEqual(['keep-player']);
    await append(packet(2000));
    expect(of('trouble')).toEqual([]);
    expect((await exported()).records).toHaveLength(2);
  });

  it('is told as trouble when storage has no room', async () => {
    storage.failAt = 'keep-player';
    await session.receive({ type: 'keep-player', player });
    expect(of('library')).toEqual([]);
    expect(of('trouble')).toMatchObject([{ trouble: { code: 'storage-full' } }]);
  });
});

describe('a running set', () => {
  it('writes what arrives together in one go before the pipeline sees any of it', async () => {
    await begin();
    storage.log.length = 0;
    await append(packet(1000), packet(2000));
    expect(storage.log).toEqual(['append', 'step', 'step']);
  });

  it('flushes at least once a second of host time and then says what is recorded', async () => {
    await begin();
    const flushedAt: number[] = [];
    for (let us = 0; us <= 10e6; us += 25_000) {
      const before = of('recorded').length;
      await append(packet(us));
      if (of('recorded').length > before) flushedAt.push(us);
    }
    const waits = flushedAt.map((us, i) => us - (flushedAt[i - 1] ?? 0));
    expect(Math.max(...waits)).toBeLessThanOrEqual(1e6);
    expect(flushedAt.length).toBe(storage.log.filter((entry) => entry === 'flush').length - 1);
    // Every 25 ms from 0 to the last flush.
    expect(of('recorded').at(-1)!.records).toBe(flushedAt.at(-1)! / 25_000 + 1);
    expect(of('recorded').at(-1)!.bytes).toBe(storage.files.get(setId)!.length);
  });

  it('flushes what the coach did at once', async () => {
    await begin();
    await append({
      kind: 'event',
      hostTimeUs: 5,
      event: { type: 'score', contactTimeUs: 1, points: 3 },
    });
    expect(of('recorded')).toEqual([
      { type: 'recorded', records: 1, bytes: storage.files.get(setId)!.length },
    ]);
  });

  it('posts only the newest view, and only when the last one was drawn', async () => {
    await begin();
    await append(packet(1000));
    await append(packet(2000));
    await append(packet(3000));
    expect(of('live').map(({ view }) => view.hostTimeUs)).toEqual([1000]);
    await session.receive({ type: 'live-drawn' });
    expect(of('live').map(({ view }) => view.hostTimeUs)).toEqual([1000, 3000]);
    await session.receive({ type: 'live-drawn' });
    expect(of('live').length).toBe(2);
    await append(packet(4000));
    expect(of('live').length).toBe(3);
  });

  it('ends with a set-ended event, a whole file and a row in the catalogue', async () => {
    await begin();
    await append(packet(1000));
    await end();
    expect(stored(storage.files.get(setId)!)).toMatchObject({
      description: sampleDescription,
      records: [packet(1000), ended(1000)],
      complete: true,
    });
    expect(storage.rows.get(setId)).toMatchObject({ swings: 2, player: sampleDescription.player });
    expect(storage.rows.get(setId)!.sizeBytes).toBe(storage.files.get(setId)!.length);
    expect(posted.at(-1)).toEqual({ type: 'set-ended', setId });
    expect(storage.log.at(-1)).toBe('close');
  });

  it('does not repeat a set-ended event that the screen has sent', async () => {
    await begin();
    await append(packet(1000), ended(1500));
    await end();
    expect(stored(storage.files.get(setId)!).records).toEqual([packet(1000), ended(1500)]);
  });

  it('is ended properly when another one begins', async () => {
    await begin();
    await append(packet(1000));
    await session.receive({ type: 'begin-set', description: { ...sampleDescription, setId: 'b' } });
    expect(stored(storage.files.get(setId)!).complete).toBe(true);
    expect(posted.at(-1)).toEqual({ type: 'set-begun', setId: 'b' });
  });

  it('handles messages sent without waiting strictly in order', async () => {
    void begin();
    for (let i = 0; i < 20; i++) void append(packet(i * 1000));
    await end();
    expect(stored(storage.files.get(setId)!).records.length).toBe(21);
  });

  it('can be exported while it runs', async () => {
    await begin();
    await append(packet(1000));
    expect((await exported()).records).toEqual([packet(1000)]);
    await append(packet(2000));
    await end();
    expect((await exported()).records).toEqual([packet(1000), packet(2000), ended(2000)]);
  });
});

describe('a failing pipeline', () => {
  const note: SetRecord = { kind: 'event', hostTimeUs: 2000, event: { type: 'note', text: 'x' } };

  it('loses no bytes and stops the live view with one message', async () => {
    await begin();
    await append(packet(1000), note, packet(3000));
    await append(packet(4000));
    await end();
    expect(of('trouble').map(({ trouble }) => trouble.code)).toEqual(['unexpected']);
    expect(of('trouble')[0]!.trouble.message).toContain('Recording goes on');
    expect(stored(storage.files.get(setId)!).records).toEqual([
      packet(1000),
      note,
      packet(3000),
      packet(4000),
      ended(4000),
    ]);
    expect(posted.at(-1)!.type).toBe('set-ended');
  });

  it('on opening a stored set is named and leaves the file alone', async () => {
    storage.files.set(setId, [...setFile([note])]);
    await session.receive({ type: 'open-set', setId });
    expect(posted.map((message) => message.type)).toEqual(['trouble']);
  });
});

describe('a wrong record', () => {
  it('is reported and nothing else is lost', async () => {
    await begin();
    await append(
      packet(1000),
      { kind: 'event', hostTimeUs: 1, event: { type: 'score', contactTimeUs: -5, points: 1 } },
      packet(2000),
    );
    await end();
    expect(of('trouble').map(({ trouble }) => trouble.code)).toEqual(['unexpected']);
    expect(stored(storage.files.get(setId)!).records.length).toBe(3);
  });
});

describe('failing storage', () => {
  it.each(['append', 'flush'] as const)(
    'at %s is told at once, and the whole set can be exported',
    async (failAt) => {
      await begin();
      await append(packet(1000), packet(2000));
      storage.failAt = failAt;
      await append(packet(900_000));
      expect(of('trouble').map(({ trouble }) => trouble.code)).toEqual(['storage-full']);
      const recorded = of('recorded').length;
      await append(packet(2_000_000));
      expect((await exported()).records).toEqual([1000, 2000, 900_000, 2_000_000].map(packet));
      await end();
      expect(of('recorded').length).toBe(recorded);
      expect(of('trouble').length).toBe(1);
      const whole = await exported();
      expect(whole.complete).toBe(true);
      expect(whole.records).toEqual([
        ...[1000, 2000, 900_000, 2_000_000].map(packet),
        ended(2_000_000),
      ]);
      await session.receive({ type: 'list-sets' });
      expect(
        of('sets')
          .at(-1)!
          .sets.map((set) => [set.setId, set.swings]),
      ).toEqual([[setId, 5]]);
      await session.receive({ type: 'open-set', setId });
      expect(of('opened-set')).toHaveLength(1);
    },
  );

  it('at the start lets the set run in memory', async () => {
    storage.failAt = 'create';
    await begin();
    expect(posted.map((message) => message.type)).toEqual(['trouble', 'set-begun']);
    await append(packet(1000));
    await end();
    expect((await exported()).records).toEqual([packet(1000), ended(1000)]);
  });

  it('at the very end keeps the set in memory', async () => {
    await begin();
    await append(packet(1000), ended(2000));
    storage.failAt = 'flush';
    await end();
    expect(of('trouble')[0]!.trouble.message).toContain('in memory only');
    expect((await exported()).records).toEqual([packet(1000), ended(2000)]);
  });
});

describe('stored sets', () => {
  it('open through the same pipeline', async () => {
    storage.files.set(setId, [...setFile([packet(1000), packet(2000)])]);
    await session.receive({ type: 'open-set', setId });
    expect(posted).toMatchObject([
      { type: 'opened-set', description: sampleDescription, view: { hostTimeUs: 2000 } },
      { type: 'measures', setId, measures: { n: 2 }, isLast: false },
      { type: 'measures', setId, measures: { angleN: 2 }, isLast: false },
      { type: 'measures', setId, measures: {}, isLast: true },
    ]);
  });

  it('give one swing of the set that is open without reading its file again', async () => {
    storage.files.set(setId, [...setFile([packet(1000), packet(2000)])]);
    await session.receive({ type: 'open-set', setId });
    storage.files.delete(setId);
    await session.receive({ type: 'trace-swing', setId, index: 1 });
    expect(posted.at(-1)).toEqual({ type: 'swing-trace', setId, index: 1, trace: null });
  });

  it('open even when their measures fail, with those that came before and a word about it', async () => {
    storage.files.set(setId, [...setFile([packet(1000), packet(UNMEASURABLE_US)])]);
    await session.receive({ type: 'open-set', setId });
    const types = posted.map((message) => message.type);
    expect(types).toEqual(['opened-set', 'measures', 'trouble', 'measures']);
    expect(posted.at(-1), 'nothing is waited for').toMatchObject({ isLast: true });
    expect(of('trouble')[0]!.trouble.message).toContain('measure broke');
  });

  it('that were cut off open with a word about it', async () => {
    storage.files.set(setId, [...setFile([packet(1000), packet(2000)]).subarray(0, -70)]);
    await session.receive({ type: 'open-set', setId });
    expect(posted.slice(0, 2).map((message) => message.type)).toEqual(['trouble', 'opened-set']);
    expect(of('trouble')[0]!.trouble.message).toContain('cut off');
  });

  it('get a row from their file when the catalogue has none, and junk is named once', async () => {
    storage.files.set(setId, [...setFile([packet(1000)])]);
    storage.files.set('junk', [1, 2, 3]);
    await session.receive({ type: 'list-sets' });
    await session.receive({ type: 'list-sets' });
    expect(of('sets')[1]!.sets).toMatchObject([{ setId, swings: 1 }]);
    expect(of('trouble').map(({ trouble }) => trouble.code)).toEqual(['set-unreadable']);
  });

  it('that were never ended are counted again and told as recovered before the list', async () => {
    const whole = [packet(1000), packet(2000), packet(61_500_000), ended(61_500_000)];
    storage.files.set('ended', [...setFile(whole, { ...sampleDescription, setId: 'ended' })]);
    storage.files.set(setId, [...setFile(whole).subarray(0, -60)]);
    storage.files.set('nothing-yet', []);
    await session.receive({ type: 'list-sets' });
    expect(posted.map((message) => message.type)).toEqual(['recovered', 'sets']);
    expect(of('recovered')[0]!.sets).toEqual([{ setId, swings: 3, untilUs: 61_500_000 }]);
    expect(
      of('sets')[0]!
        .sets.map((row) => row.setId)
        .sort(),
    ).toEqual(['ended', setId]);
  });

  it.each(['open-set', 'export-set'] as const)(
    'that do not exist give trouble at %s',
    async (type) => {
      await session.receive({ type, setId: 'nowhere' });
      expect(posted).toMatchObject([{ type: 'trouble', trouble: { code: 'set-unreadable' } }]);
    },
  );
});

describe('without a running set', () => {
  it('appending is told once until the next set', async () => {
    await append(packet(1));
    await append(packet(2));
    expect(of('trouble').map(({ trouble }) => trouble.code)).toEqual(['no-running-set']);
  });

  it('a description that could not be read back starts nothing', async () => {
    await session.receive({ type: 'begin-set', description: { ...sampleDescription, setId: '/' } });
    expect(of('trouble')[0]!.trouble.message).toContain('setId');
    expect(storage.files.size).toBe(0);
  });
});
