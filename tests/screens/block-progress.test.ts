import { describe, expect, it } from 'vitest';
import type { SetPlan } from '../../src/core/recording/set-plan.ts';
import type { Condition } from '../../src/core/recording/set-record.ts';
import { blockProgress, conditionWords } from '../../src/screens/court/block-progress.ts';
import { courtSwing } from './court-swings.ts';

const short: Condition = {
  implement: '580 mm racket',
  ball: 'training ball',
  feed: '',
  implementLengthM: 0.45,
  implementSensorFromWristM: 0.13,
  sweetSpotBand: null,
};
const full: Condition = { ...short, implement: '685 mm racket', implementLengthM: 0.55 };
const plan: SetPlan = {
  task: 'Forehand drive',
  target: null,
  conditions: [short, full],
  blocks: [0, 1, 1, 0],
  order: 'mirrored',
  orderSeed: null,
  swingsPerBlock: 3,
  feedback: { cue: 'none', isOnlyOffBand: false, isFading: false },
  cautionsConfirmedAtMs: 0,
};

describe('progress of a planned set', () => {
  it('counts balls met in the running block; discarded ones and air swings are to be swung again', () => {
    const air = courtSwing(4, { block: 1 });
    const swings = [
      courtSwing(1),
      courtSwing(2, { block: 1 }),
      courtSwing(3, { block: 1, discarded: true }),
      { ...air, swing: { ...air.swing, voidReason: 'air-swing' as const } },
      // no reach, but the ball was played
      {
        ...courtSwing(5, { block: 1 }),
        swing: { ...air.swing, voidReason: 'sensor-gap' as const },
      },
    ];
    expect(blockProgress(plan, [short, full], swings)).toEqual({
      block: 1,
      condition: full,
      swings: 2,
      wanted: 3,
      blocks: 4,
      next: full,
    });
  });

  it('tells what comes next, and when nothing does', () => {
    expect(blockProgress(plan, [short], []).next).toBe(full);
    expect(blockProgress(plan, [short, full, full, short], []).next).toBeNull();
    // one more than planned: it goes on as long as the coach likes
    expect(blockProgress(plan, [short, full, full, short, full], []).wanted).toBeNull();
  });

  it('goes on without end where nothing is planned', () => {
    const progress = blockProgress(undefined, [short], [courtSwing(1)]);
    expect(progress).toMatchObject({ swings: 1, wanted: null, blocks: null, next: null });
  });

  it('names a condition without empty parts', () => {
    expect(conditionWords(short)).toBe('580 mm racket, training ball');
    expect(conditionWords({ ...short, feed: 'by hand' })).toBe(
      '580 mm racket, training ball, by hand',
    );
  });
});
