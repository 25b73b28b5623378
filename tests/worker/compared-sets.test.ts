import { beforeAll, describe, expect, it } from 'vitest';
import { usualThresholds } from '../../src/core/measures/accuracy-classes.ts';
import { compareConditions } from '../../src/core/measures/comparison.ts';
import { summariseFunnel } from '../../src/core/measures/funnel.ts';
import type { MeasuredSwing } from '../../src/core/measures/measured-swing.ts';
import { finishedState as keptPart } from '../../src/core/pipeline/finished-state.ts';
import { type PipelineState, viewPipeline } from '../../src/core/pipeline/pipeline.ts';
import { reviewedSwings } from '../../src/core/pipeline/reviewed-swings.ts';
import type { KeptState } from '../../src/storage/kept-state.ts';
import type { ComparedGroup, FromWorker, SetSummary, ToWorker } from '../../src/worker/contract.ts';
import type { SetPipeline, SetStorage } from '../../src/worker/set-ports.ts';
import { SetSession } from '../../src/worker/set-session.ts';
import { finishedState } from '../exports/demo-set.ts';
import { describedSet } from '../recording/described-set.ts';
import { setFile } from '../recording/sample-set.ts';

type DescribedSet = ReturnType<typeof describedSet>;

const PLAYER = 'Player Q';
const SHORT = { implement: '580 mm racket', ball: 'larger, slower training ball', feed: '' };
const FULL = { implement: '685 mm racket', ball: 'standard ball', feed: '' };
/** A day apart; the first has both kits. */
const both = describedSet(
  {
    seed: 3,
    swings: 12,
    swingIntervalS: 5,
    laterBlocks: [{ implement: 'full', ball: 'standard', swings: 11 }],
  },
  { setId: 'both', player: PLAYER, startedAtMs: 1e12 },
);
const later = describedSet(
  { seed: 4, swings: 10, swingIntervalS: 5, strategy: 'frozen' },
  { setId: 'later', player: PLAYER, startedAtMs: 1e12 + 864e5 },
);

const states = new Map<string, PipelineState>();
const kept = new Map<string, KeptState>();
const files = new Map<string, Uint8Array>();
const rows = new Map<string, SetSummary>();
let opened: string[] = [];
let posted: FromWorker[] = [];
let session: SetSession;

/** Sets are in it already, each with its kept state. */
const storage: SetStorage = {
  create: () => Promise.reject(new Error('nothing is recorded here')),
  read: async (setId) => {
    opened.push(setId);
    return files.get(setId)!.slice();
  },
  changeTail: async () => {},
  remove: async () => {},
  list: async () => [...rows.values()],
  remember: async (row) => void rows.set(row.setId, row),
  library: async () => ({ players: [], implements: [], balls: [] }),
  learn: async () => {},
  keepPlayer: async () => {},
  forgetPlayer: async () => {},
  keepState: async () => {},
  keptState: async (setId) => kept.get(setId),
};

const pipeline: SetPipeline = {
  build: 'test',
  start: () => {
    throw new Error('the kept state says it all');
  },
  resume: (state) => ({
    step: () => {},
    view: () => viewPipeline(state as PipelineState),
    finished: () => state,
    review: () => viewPipeline(state as PipelineState),
    measures: () => [],
    swingsLike: (block) => reviewedSwings(state as PipelineState, block),
    trace: () => null,
  }),
};

function store({ description, records }: Pick<DescribedSet, 'description' | 'records'>): void {
  const { setId, startedAtMs, source, player, implement, ball } = description;
  const bytes = setFile(records, description);
  files.set(setId, bytes);
  const row = { setId, startedAtMs, source, player, implement, ball };
  rows.set(setId, { ...row, swings: 0, sizeBytes: bytes.length });
  const state = states.get(setId)!;
  // of a file that has changed since, so that its records are read too
  kept.set(setId, {
    setId,
    build: 'test',
    description,
    sha256: '',
    records: records.length,
    state,
  });
}

beforeAll(() => {
  for (const set of [both, later]) {
    states.set(set.description.setId, structuredClone(keptPart(finishedState(set))));
    store(set);
  }
}, 60_000);

const send = (message: ToWorker) => session.receive(message);

/** As a screen does: asks for the next step whenever one is told. @returns steps told, and the last message */
async function ask(message: ToWorker, isOver: (told: FromWorker) => boolean) {
  posted = [];
  opened = [];
  session = session ?? new SetSession((told) => posted.push(told), storage, pipeline);
  await send(message);
  let steps = 1;
  while (posted.at(-1) !== undefined && !isOver(posted.at(-1)!) && steps < 50) {
    await send({ type: 'compare-on' });
    steps++;
  }
  return { steps, last: posted.at(-1)! };
}

const list = (player: string) =>
  ask(
    { type: 'list-conditions', player },
    (told) => told.type === 'conditions' && told.toRead === 0,
  );

function compare(smaller: ComparedGroup, larger: ComparedGroup, id = 1) {
  return ask({ type: 'compare', id, smaller, larger }, (told) => told.type === 'compared');
}

const counted = (setId: string, block: number): MeasuredSwing[] =>
  reviewedSwings(states.get(setId)!, block).filter((swing) => swing !== null);

describe('what can be compared', () => {
  it('is told set by set, and read once only', async () => {
    const { last, steps } = await list(PLAYER);
    expect(steps).toBe(3);
    expect(last).toEqual({
      type: 'conditions',
      player: PLAYER,
      toRead: 0,
      sets: [
        expect.objectContaining({
          setId: 'later',
          conditions: [{ ...SHORT, implementLengthM: 0.45, swings: counted('later', 0).length }],
          last: 0,
        }),
        expect.objectContaining({
          setId: 'both',
          startedAtMs: 1e12,
          scoreSteps: [10, 8, 6, 4, 2, 0],
          conditions: [
            { ...SHORT, implementLengthM: 0.45, swings: counted('both', 0).length },
            { ...FULL, implementLengthM: 0.55, swings: counted('both', 1).length },
          ],
          last: 1,
        }),
      ],
    });
    expect(opened).toEqual(['both', 'later']);
    expect((await list(PLAYER)).last).toEqual(last);
    expect(opened).toEqual([]);
  });

  it('is nothing for somebody without a set', async () => {
    expect((await list('Nobody')).last).toMatchObject({ type: 'conditions', sets: [], toRead: 0 });
  });
});

describe('a comparison', () => {
  it('of two sets gives the numbers of the core, older swings first', async () => {
    const { last } = await compare(
      { ...SHORT, setIds: ['later', 'both'] },
      { ...FULL, setIds: ['both'] },
    );
    if (last.type !== 'compared') throw new Error(last.type);
    const sets = {
      smaller: [...counted('both', 0), ...counted('later', 0)],
      larger: counted('both', 1),
    };
    const thresholds = usualThresholds(10);
    expect(last.comparison).toEqual(compareConditions(sets, { seed: 1, draws: 1999, thresholds }));
    expect(last.comparison.n).toEqual({ smaller: 22, larger: 11 });
    expect(last.sides.smaller.funnel).toEqual(summariseFunnel(sets.smaller));
    expect(Array.from(last.sides.larger.reachM)).toEqual(
      sets.larger.map(({ reachCurveM }) => reachCurveM[100]),
    );
    expect(last.sides.larger.points).toEqual(sets.larger.map(({ points }) => points));
    expect(last.isScoredAlike).toBe(true);
    expect(opened.toSorted()).toEqual(['both', 'later']);
  });

  it('takes the sets that are chosen and no others, and reads none again', async () => {
    const { last } = await compare({ ...SHORT, setIds: ['both'] }, { ...FULL, setIds: ['both'] });
    expect(last).toMatchObject({ comparison: { n: { smaller: 12, larger: 11 } } });
    expect(opened).toEqual([]);
  });

  it('is told step by step, so that other things come in between', async () => {
    const pieces = posted.map((told) => (told.type === 'compare-step' ? told.done : told.type));
    // one set, nine measures, the whole
    expect(pieces).toEqual([0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 'compared']);
    await send({ type: 'compare', id: 7, smaller: groups.smaller, larger: groups.larger });
    await send({ type: 'list-sets' });
    expect(posted.at(-1)?.type).toBe('sets');
  });

  const groups = {
    smaller: { ...SHORT, setIds: ['both'] },
    larger: { ...FULL, setIds: ['both'] },
  };

  it('gives way to a later one', async () => {
    await send({ type: 'compare', id: 8, ...groups });
    const { last } = await compare(groups.smaller, groups.larger, 9);
    expect(last).toMatchObject({ type: 'compared', id: 9 });
    await send({ type: 'compare-on' });
    expect(posted.at(-1)).toBe(last);
  });

  it('leaves points out that come from different score pads', async () => {
    store({ ...later, description: { ...later.description, scoreSteps: [3, 1, 0] } });
    const { last } = await compare({ ...SHORT, setIds: ['later'] }, { ...FULL, setIds: ['both'] });
    if (last.type !== 'compared') throw new Error(last.type);
    expect(last.isScoredAlike).toBe(false);
    expect(last.sides.smaller.points.every((points) => points === null)).toBe(true);
    expect(last.comparison.measures.score.contrast).toMatchObject({ reason: 'too-few' });
    expect(last.comparison.measures.spread.contrast).toHaveProperty('value');
  });

  it('of no swing says that there are too few', async () => {
    const { last } = await compare({ ...SHORT, setIds: [] }, { ...FULL, setIds: ['both'] });
    if (last.type !== 'compared') throw new Error(last.type);
    expect(last.comparison.n.smaller).toBe(0);
    expect(last.comparison.measures.spread.contrast).toMatchObject({ reason: 'too-few', have: 0 });
  });
});
