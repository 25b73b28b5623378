import { createHash } from 'node:crypto';
import { beforeAll, beforeEach, describe, expect, it } from 'vitest';
import type { ReviewedMeasures } from '../../src/core/measures/measure-set.ts';
import { trend } from '../../src/core/measures/trend.ts';
import {
  createPipeline,
  type PipelineState,
  stepPipeline,
  viewPipeline,
} from '../../src/core/pipeline/pipeline.ts';
import { measureReviewed, reviewPipeline } from '../../src/core/pipeline/review.ts';
import { reviewedSwings } from '../../src/core/pipeline/reviewed-swings.ts';
import type { SetDescription } from '../../src/core/recording/set-description.ts';
import { StorageError } from '../../src/storage/storage-error.ts';
import type { FromWorker, SetSummary } from '../../src/worker/contract.ts';
import type { PipelineRun, SetPipeline, SetStorage } from '../../src/worker/set-ports.ts';
import { SetSession } from '../../src/worker/set-session.ts';
import { summarise } from '../../src/worker/stored-sets.ts';
import { describedSet } from '../recording/described-set.ts';
import { setFile } from '../recording/sample-set.ts';
import { answered } from '../statistics/answers.ts';

const DAY_MS = 24 * 3600 * 1000;
const FIRST_MS = new Date(2026, 4, 4, 15).getTime();
const SHORT = { implement: 'short', ball: 'training', swings: 10 } as const;
const FULL = { implement: 'full', ball: 'standard', swings: 10 } as const;

type Simulated = ReturnType<typeof describedSet>;
/** Two simulated sets of one kit, and one of two; each is played on several days. */
let sets: readonly [Simulated, Simulated, Simulated];
/** What their pipelines come to. */
let states: PipelineState[];
let files: Map<string, Uint8Array>;
let rows: SetSummary[];
let posted: FromWorker[];
let session: SetSession;

function stateOf({ description, records }: Simulated): PipelineState {
  const state = createPipeline(description);
  for (const record of records) stepPipeline(state, record);
  return state;
}

function runOf(state: PipelineState): PipelineRun {
  return {
    step: (record) => void stepPipeline(state, record),
    view: () => viewPipeline(state),
    finished: () => structuredClone(state),
    review: (block) => reviewPipeline(state, block),
    measures: () => [],
    swingsLike: (block) => reviewedSwings(state, block),
    trace: () => null,
  };
}

const pipeline: SetPipeline = {
  build: 'test',
  start: (description) => runOf(createPipeline(description)),
  resume: (finished) => runOf(finished as PipelineState),
};

const kept = new Map<string, Parameters<SetStorage['keepState']>[0]>();

const storage: SetStorage = {
  create: async () => {
    throw new StorageError('storage-full', 'Full.');
  },
  read: async (setId) => files.get(setId)!,
  changeTail: async () => {},
  remove: async () => {},
  list: async () => rows,
  library: async () => ({ players: [], implements: [], balls: [] }),
  learn: async () => {},
  keepPlayer: async () => {},
  forgetPlayer: async () => {},
  keepState: async (state) => void kept.set(state.setId, state),
  keptState: async (setId) => structuredClone(kept.get(setId)),
  remember: async () => {},
};

/** Puts a simulated set into storage as one of some day, as it was when it had just ended. */
function store(set: Simulated, change: Partial<SetDescription>): void {
  const { description, records } = set;
  const described = { ...description, ...change };
  const file = setFile(records, described);
  const { setId } = described;
  const state = states[sets.indexOf(set)]!;
  const { build } = pipeline;
  const sha256 = createHash('sha256').update(file).digest('hex');
  kept.set(setId, { setId, build, description: described, sha256, records: records.length, state });
  files.set(described.setId, file);
  rows.unshift(summarise(described, file.length, 10, []));
}

const of = <T extends FromWorker['type']>(type: T) =>
  posted.filter((message): message is Extract<FromWorker, { type: T }> => message.type === type);

const read = async (player: string) => {
  await session.receive({ type: 'read-history', player });
  return of('player-history').at(-1)?.conditions;
};

beforeAll(() => {
  const at = { setId: 'any', startedAtMs: 0 };
  sets = [
    describedSet({ seed: 1, strategy: 'distal', ...SHORT, swingIntervalS: 5 }, at),
    describedSet({ seed: 2, strategy: 'frozen', ...SHORT, swingIntervalS: 5 }, at),
    describedSet(
      { seed: 3, strategy: 'distal', ...SHORT, laterBlocks: [FULL], swingIntervalS: 5 },
      at,
    ),
  ];
  states = sets.map(stateOf);
}, 60_000);

beforeEach(() => {
  files = new Map();
  rows = [];
  posted = [];
  kept.clear();
  session = new SetSession((message) => posted.push(message), storage, pipeline);
});

describe('the history of a player', () => {
  it('is trend run directly on the reviewed swings, day by day, and its values are those of the sets', async () => {
    for (let day = 0; day < 7; day++) {
      const startedAtMs = FIRST_MS + 7 * day * DAY_MS;
      store(sets[day % 2]!, { setId: `day-${day}`, startedAtMs, player: 'Heron' });
    }
    store(sets[0], { setId: 'other', startedAtMs: FIRST_MS, player: 'Otter' });
    const [history, ...others] = (await read('Heron'))!;
    expect(others).toEqual([]);
    expect(history).toMatchObject({ implement: sets[0].description.implement, feed: '' });
    expect(history!.days.map(({ setIds }) => setIds)).toEqual(
      Array.from({ length: 7 }, (_, day) => [`day-${day}`]),
    );

    const sessions = history!.days.map((_, i) => ({
      day: 7 * i,
      swings: reviewedSwings(states[i % 2]!, 0),
    }));
    const direct = trend(sessions, { seed: 1 });
    expect(history!.trends).toEqual(direct);
    for (const day of [0, 1]) {
      const parts = measureReviewed(states[day]!, { seed: 1, resamples: 100 });
      const { reach, score, n }: ReviewedMeasures = Object.assign({}, ...parts);
      expect(history!.days[day]!.swings).toBe(n);
      expect(history!.trends.meanReach.values[day]).toBeCloseTo(answered(reach.meanM).value, 12);
      expect(history!.trends.spread.values[day]).toBeCloseTo(answered(reach.spreadM).value, 12);
      expect(history!.trends.score.values[day]).toBeCloseTo(
        answered(answered(score).mean).value,
        12,
      );
    }
    expect(of('history-progress').map(({ read, of }) => [read, of])).toEqual(
      Array.from({ length: 7 }, (_, i) => [i, 7]),
    );
  }, 60_000);

  it('joins the sets of one day, and keeps conditions apart, the last played first', async () => {
    const early = new Date(2026, 4, 4, 8).getTime();
    const late = new Date(2026, 4, 4, 23, 30).getTime();
    store(sets[0], { setId: 'morning', startedAtMs: early, player: 'Heron' });
    store(sets[2], { setId: 'two-kits', startedAtMs: late, player: 'Heron' });
    store(sets[1], { setId: 'next-day', startedAtMs: late + DAY_MS / 24, player: 'Heron' });
    const histories = (await read('Heron'))!;
    const played = histories.map(({ implement, days }) => [
      implement,
      days.map(({ setIds, swings, fullPoints }) => [setIds.join(' '), swings, fullPoints]),
    ]);
    expect(played).toEqual([
      [
        '580 mm racket',
        [
          ['morning two-kits', 20, 10],
          ['next-day', 10, 10],
        ],
      ],
      ['685 mm racket', [['two-kits', 10, 10]]],
    ]);
  }, 60_000);

  it('leaves out a set that cannot be read, and says so', async () => {
    store(sets[0], { setId: 'sound', startedAtMs: FIRST_MS, player: 'Heron' });
    store(sets[0], { setId: 'broken', startedAtMs: FIRST_MS + DAY_MS, player: 'Heron' });
    files.set('broken', new Uint8Array(100));
    const [history] = (await read('Heron'))!;
    expect(history!.days.map(({ setIds }) => setIds)).toEqual([['sound']]);
    expect(of('trouble').map(({ trouble }) => trouble.code)).toEqual(['set-unreadable']);
  });

  it('is given up when another message waits, and refused while a set runs', async () => {
    store(sets[0], { setId: 'one', startedAtMs: FIRST_MS, player: 'Heron' });
    const first = session.receive({ type: 'read-history', player: 'Heron' });
    await Promise.all([first, session.receive({ type: 'list-sets' })]);
    expect(of('player-history')).toEqual([]);
    expect(of('sets')).toHaveLength(1);

    await session.receive({ type: 'begin-set', description: sets[0].description });
    await session.receive({ type: 'read-history', player: 'Heron' });
    expect(of('player-history')).toEqual([]);
    expect(of('trouble').at(-1)?.trouble.message).toMatch(/End the set|set is running|ended/i);
  });

  it('of a player without sets is empty', async () => {
    expect(await read('Nobody')).toEqual([]);
  });
});
