import { beforeEach, describe, expect, it } from 'vitest';
import type { MeasuredSwing } from '../../src/core/measures/measured-swing.ts';
import {
  createSideBySideModel,
  type SideBySideModel,
} from '../../src/screens/side-by-side/side-by-side-model.ts';
import { swingOfReach } from '../measures/hand-made-swings.ts';
import { fakeClient } from './fake-client.ts';
import { comparedOf, playedSet } from './played-sets.ts';

const BOTH = playedSet('both', 8, ['short', 'soft', 6], ['full', 'hard', 6]);
const OLD = playedSet('old', 1, ['short', 'soft', 7]);
const few: MeasuredSwing[] = [0.9, 0.91, 0.92, 0.9, 0.93, 0.89].map((reachM, i) => ({
  ...swingOfReach(() => reachM),
  points: 5 * (i % 3),
}));

let fake: ReturnType<typeof fakeClient>;
let model: SideBySideModel;
beforeEach(() => {
  fake = fakeClient();
  model = createSideBySideModel(fake.client, 'Player A');
});
const listed = (toRead = 0) =>
  fake.answer({ type: 'conditions', player: 'Player A', sets: [BOTH, OLD], toRead });
const compared = (id: number) => fake.answer(comparedOf({ smaller: few, larger: few }, { id }));

describe('side by side', () => {
  it('asks for the next step while sets are read, then compares what was played on one day', () => {
    expect(fake.asked).toEqual([{ type: 'list-conditions', player: 'Player A' }]);
    listed(3);
    expect(fake.asked.at(-1)).toEqual({ type: 'compare-on' });
    expect(model.progress.value).toEqual({ words: 'Reading sets', done: 2, of: 5 });
    expect(model.comparable.value).toBeNull();
    listed();
    expect(fake.asked.at(-1)).toEqual({
      type: 'compare',
      id: 1,
      smaller: { implement: 'short racket', ball: 'soft', feed: '', setIds: ['both'] },
      larger: { implement: 'full racket', ball: 'hard', feed: '', setIds: ['both'] },
    });
    fake.answer({ type: 'compare-step', id: 1, done: 4, of: 10 });
    expect(fake.asked.at(-1)).toEqual({ type: 'compare-on' });
    expect(model.progress.value).toMatchObject({ done: 4, of: 10 });
    compared(1);
    expect(model.progress.value).toBeNull();
    expect(model.decision.value).toMatchObject({ answer: 'not-enough', n: { smaller: 6 } });
  });

  it('never shows the numbers of another choice', () => {
    listed();
    compared(1);
    model.toggleSet('A', 'old');
    expect(model.compared.value).toBeNull();
    expect(fake.asked.at(-1)).toMatchObject({ id: 2, smaller: { setIds: ['both', 'old'] } });
    const asked = fake.asked.length;
    fake.answer({ type: 'compare-step', id: 1, done: 9, of: 10 });
    compared(1);
    expect([model.compared.value, fake.asked.length]).toEqual([null, asked]);
    compared(2);
    expect(model.compared.value).not.toBeNull();
  });

  it('says what is wrong instead of comparing a side without sets, or swings with themselves', () => {
    listed();
    model.toggleSet('B', 'both');
    expect(model.problem.value).toMatch(/No set is chosen for B/);
    const asked = fake.asked.length;
    model.choose('B', model.pair.value!.kits.A.comparable.key);
    expect(model.problem.value).toMatch(/the same swings/);
    expect(fake.asked.length).toBe(asked);
    model.toggleSet('B', 'both');
    expect(model.problem.value).toBeNull();
    expect(fake.asked.length).toBe(asked + 1);
  });

  it('takes the kit of the last block for the one played now, until the coach says so', () => {
    listed();
    expect(model.pair.value?.current).toBe('B');
    compared(1);
    model.setCurrent('A');
    expect(model.pair.value?.current).toBe('A');
    expect(model.compared.value).not.toBeNull();
  });

  it('tells troubles, and takes nothing meant for another player', () => {
    fake.answer({ type: 'conditions', player: 'Player B', sets: [BOTH], toRead: 0 });
    expect(model.comparable.value).toBeNull();
    fake.answer({
      type: 'trouble',
      trouble: { code: 'not-changed', message: 'A set is running.' },
    });
    expect(model.trouble.value).toBe('A set is running.');
  });
});
