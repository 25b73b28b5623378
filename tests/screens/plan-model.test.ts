import { beforeEach, describe, expect, it } from 'vitest';
import type { PlannedSet } from '../../src/core/plan/planned-set.ts';
import { NEW_KIT } from '../../src/screens/plan/kit-entry.ts';
import { createLastPlan } from '../../src/screens/plan/last-plan.ts';
import { createPlanModel } from '../../src/screens/plan/plan-model.ts';
import { samplePlan } from '../recording/sample-plan.ts';
import { fakeClient } from './fake-client.ts';

const planned: PlannedSet = {
  plan: { ...samplePlan, feedback: { cue: 'none', isOnlyOffBand: false, isFading: false } },
  scoreSteps: [3, 2, 1, 0],
};

/** As much of the browser's storage as is used. */
function memory(): Storage {
  const items = new Map<string, string>();
  return {
    getItem: (key: string) => items.get(key) ?? null,
    setItem: (key: string, text: string) => void items.set(key, text),
  } as Storage;
}

describe('the last plan', () => {
  it('is kept and read again', () => {
    const last = createLastPlan(memory);
    expect(last.read()).toBeNull();
    const storage = memory();
    createLastPlan(() => storage).keep(planned);
    expect(createLastPlan(() => storage).read()).toEqual(planned);
  });

  it.each(['', '{', 'null', '{"plan":{}}'])('is forgotten when it reads %j', (text) => {
    const storage = memory();
    storage.setItem('last-plan', text);
    expect(createLastPlan(() => storage).read()).toBeNull();
  });

  it('is no trouble where storage is forbidden', () => {
    const last = createLastPlan(() => {
      throw new DOMException('no', 'SecurityError');
    });
    expect(() => last.keep(planned)).not.toThrow();
    expect(last.read()).toBeNull();
  });
});

describe('the Plan screen', () => {
  let storage: Storage;
  let begun: PlannedSet[];
  let seeds: number;
  const open = () =>
    createPlanModel({
      client: fakeClient().client,
      lastPlan: createLastPlan(() => storage),
      newSeed: () => ++seeds,
      nowMs: () => 5000,
      onBegin: (set) => begun.push(set),
    });
  beforeEach(() => {
    storage = memory();
    begun = [];
    seeds = 0;
  });

  it('begins the last plan again, once the cautions are confirmed for this set', () => {
    createLastPlan(() => storage).keep(planned);
    const model = open();
    model.begin();
    expect(begun).toEqual([]);
    model.confirmCautions(true);
    model.begin();
    expect(begun).toEqual([{ ...planned, plan: { ...planned.plan, cautionsConfirmedAtMs: 5000 } }]);
    expect(open().areCautionsSeen.value).toBe(false);
  });

  it('does not begin while there is a problem', () => {
    createLastPlan(() => storage).keep(planned);
    const model = open();
    model.confirmCautions(true);
    model.change({ points: '1 2' });
    model.begin();
    expect(begun).toEqual([]);
    model.change({ points: '2 1' });
    model.begin();
    expect(begun).toHaveLength(1);
    expect(createLastPlan(() => storage).read()?.scoreSteps).toEqual([2, 1]);
  });

  it('adds up to four kits with the ball of the one before, and keeps one at least', () => {
    const model = open();
    model.changeKit(0, { implement: 'bat', ball: 'soft', wristToSweetSpotCm: 70 });
    for (let i = 0; i < 5; i++) model.addKit();
    const { kits } = model.entry.value;
    expect(kits).toHaveLength(4);
    expect(kits[3]).toEqual({ ...NEW_KIT, ball: 'soft' });
    for (let i = 0; i < 5; i++) model.removeKit(1);
    expect(model.entry.value.kits.map(({ implement }) => implement)).toEqual(['bat']);
    model.removeKit(0);
    expect(model.entry.value.kits).toHaveLength(1);
  });

  it('shuffles from another seed when asked', () => {
    const model = open();
    const first = model.entry.value.seed;
    model.shuffle();
    expect(model.entry.value.seed).not.toBe(first);
  });
});
