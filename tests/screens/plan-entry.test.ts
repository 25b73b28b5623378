import { describe, expect, it } from 'vitest';
import type { Library } from '../../src/screens/library-model.ts';
import {
  conditionOf,
  entryOfCondition,
  kitProblem,
  NEW_KIT,
  withImplement,
} from '../../src/screens/plan/kit-entry.ts';
import {
  entryOfPlan,
  newPlan,
  plannedSetOf,
  planProblem,
  readPoints,
} from '../../src/screens/plan/plan-entry.ts';
import {
  amountWords,
  feedbackWords,
  kitWords,
  orderWords,
  taskWords,
} from '../../src/screens/plan/plan-words.ts';
import { samplePlan } from '../recording/sample-plan.ts';

const short = {
  implement: 'short',
  ball: 'soft',
  feed: '',
  wristToSweetSpotCm: 45,
  implementSensorCm: 13,
  hopedReachCm: Number.NaN,
  halfWidthCm: 3,
};
const long = { ...short, implement: 'long', wristToSweetSpotCm: 62.5 };
const entry = { ...newPlan(7), kits: [short] };

describe('a kit as typed', () => {
  it('becomes a condition in metres and comes back', () => {
    expect(conditionOf({ ...long, implement: ' long ', feed: ' machine ' })).toEqual({
      implement: 'long',
      ball: 'soft',
      feed: 'machine',
      implementLengthM: 0.625,
      implementSensorFromWristM: 0.13,
      sweetSpotBand: null,
    });
    expect(entryOfCondition(conditionOf(long))).toEqual(long);
    const hoped = { ...long, hopedReachCm: 88.5, halfWidthCm: 2.5 };
    expect(conditionOf(hoped).sweetSpotBand).toEqual({ reachM: 0.885, halfWidthM: 0.025 });
    expect(entryOfCondition(conditionOf(hoped))).toEqual(hoped);
  });

  const library: Library = {
    players: [],
    implements: [{ implement: 'bat', lengthM: 0.7, sensorM: 0.2, seenMs: 0 }],
    balls: [],
  };

  it('takes the lengths of a known implement, from other kits first', () => {
    expect(withImplement(NEW_KIT, 'bat', [], library)).toMatchObject({
      implement: 'bat',
      wristToSweetSpotCm: 70,
      implementSensorCm: 20,
    });
    const other = { ...short, implement: 'bat', wristToSweetSpotCm: 71 };
    expect(withImplement(NEW_KIT, 'bat', [other], library).wristToSweetSpotCm).toBe(71);
  });

  it('does not leave the lengths of a known implement with one nobody has measured', () => {
    const bat = withImplement(NEW_KIT, 'bat', [], library);
    expect(withImplement(bat, 'bat 2', [], library).wristToSweetSpotCm).toBeNaN();
    const typed = { ...NEW_KIT, implement: 'sti', wristToSweetSpotCm: 66 };
    expect(withImplement(typed, 'stic', [], library).wristToSweetSpotCm).toBe(66);
  });

  it('is told apart from the others', () => {
    expect(kitProblem([short, long])).toBeNull();
    expect(kitProblem([short, { ...short, ball: 'hard' }])).toBeNull();
    expect(kitProblem([short, { ...short, feed: 'machine' }])).toBeNull();
    expect(kitProblem([short, long, { ...short, ball: ' soft' }])).toContain('Kits A and C are');
    const measuredTwice = { ...short, ball: 'hard', wristToSweetSpotCm: 46 };
    expect(kitProblem([short, measuredTwice])).toContain('one implement different lengths');
  });
});

describe('a plan as typed', () => {
  it('is forty swings with one kit, scored by eye, unless said otherwise', () => {
    const { plan, scoreSteps } = plannedSetOf(entry, 99);
    expect(plan).toEqual({
      task: '',
      target: null,
      conditions: [conditionOf(short)],
      blocks: [0, 0, 0, 0],
      order: 'mirrored',
      orderSeed: null,
      swingsPerBlock: 10,
      feedback: { cue: 'none', isOnlyOffBand: false, isFading: false },
      cautionsConfirmedAtMs: 99,
    });
    expect(scoreSteps).toEqual([10, 8, 6, 4, 2, 0]);
  });

  it('comes back from what was planned, a random order shuffled anew', () => {
    const full = {
      ...entry,
      task: 'Drive',
      kits: [{ ...short, hopedReachCm: 88.5, halfWidthCm: 2.5 }, long],
      rounds: 3,
      swingsPerBlock: 15,
      scoring: 'box',
      widthM: 2,
      depthM: 1,
      stepM: 0.25,
      points: '3 2 1',
      feedback: { cue: 'speech', isOnlyOffBand: true, isFading: true },
    } as const;
    expect(entryOfPlan(plannedSetOf(full, 0), 7)).toEqual(full);
    const random = { ...full, order: 'random' } as const;
    expect(plannedSetOf(random, 0).plan.orderSeed).toBe(7);
    expect(entryOfPlan(plannedSetOf(random, 0), 8)).toEqual({ ...random, seed: 8 });
  });

  it('comes back from a plan made elsewhere', () => {
    const planned = { plan: samplePlan, scoreSteps: [1, 0] };
    const back = entryOfPlan(planned, 1);
    expect(plannedSetOf(back, samplePlan.cautionsConfirmedAtMs)).toEqual(planned);
  });

  it('cannot fade in one block, nor be off a band nobody knows', () => {
    const feedback = { cue: 'tone', isOnlyOffBand: true, isFading: true } as const;
    const one = plannedSetOf({ ...entry, rounds: 1, feedback }, 0);
    expect(one.plan.feedback).toEqual({ cue: 'tone', isOnlyOffBand: false, isFading: false });
    const more = plannedSetOf({ ...entry, kits: [{ ...short, hopedReachCm: 90 }], feedback }, 0);
    expect(more.plan.feedback).toEqual(feedback);
  });

  it.each([
    ['10 8 6 4 2 0', [10, 8, 6, 4, 2, 0]],
    [' 3;2; 1 ', [3, 2, 1]],
    ['1 0.5 -1', [1, 0.5, -1]],
    ['', null],
    ['10', null],
    ['10 10 5', null],
    ['0 5 10', null],
    ['10 x', null],
    ['10 Infinity', null],
    ['10 9 8 7 6 5 4 3 2 1', null],
  ])('points %j', (text, steps) => {
    expect(readPoints(text)).toEqual(steps);
    expect(planProblem({ ...entry, points: text }) === null).toBe(steps !== null);
  });
});

describe('a plan in words', () => {
  const two = { ...entry, kits: [short, long], rounds: 2 };
  it('says how much, in what order, with what', () => {
    expect(amountWords(two)).toBe('4 blocks, 40 swings');
    expect(amountWords({ ...entry, rounds: 1 })).toBe('1 block, 10 swings');
    expect(orderWords(two)).toBe('A B B A');
    expect(kitWords(two)).toEqual(['A: short, soft', 'B: long, soft']);
    expect(kitWords(newPlan(1))).toEqual(['No implement yet, no ball yet']);
  });

  it('says what is played and told', () => {
    expect(taskWords(entry)).toBe('Scored by eye');
    expect(taskWords({ ...entry, task: 'Drive', scoring: 'box' })).toBe(
      'Drive, box of 1.5 × 1.5 m',
    );
    expect(feedbackWords(entry)).toBe('Nothing is told');
    const feedback = { cue: 'tone', isOnlyOffBand: true, isFading: true } as const;
    expect(feedbackWords({ ...entry, feedback })).toBe('Tone, ever less often');
    const hoped = { ...short, hopedReachCm: 90 };
    expect(kitWords({ ...entry, kits: [hoped] })).toEqual(['short, soft, 90 ± 3 cm']);
    expect(feedbackWords({ ...entry, feedback, rounds: 1, kits: [hoped] })).toBe(
      'Tone, only off the band',
    );
  });
});
