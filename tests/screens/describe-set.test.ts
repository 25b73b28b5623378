import { describe, expect, it } from 'vitest';
import { readDescription } from '../../src/core/recording/description-json.ts';
import { describeSet } from '../../src/screens/describe-set.ts';
import { samplePlan } from '../recording/sample-plan.ts';

const head = { setId: 'a', startedAtMs: 0, programVersion: 'test' };
const player = {
  player: 'Heron',
  handedness: 'left',
  consentOn: '2026-05-31',
  statureM: 1.33,
  upperArmM: 0.247,
  forearmM: 0.194,
  upperArmSensorM: 0.15,
  forearmSensorM: 0.14,
  seenMs: 0,
} as const;
const planned = { plan: samplePlan, scoreSteps: [1, 0] };

describe('describeSet', () => {
  it('begins with the condition of the first block, and is read back as it is', () => {
    const plan = { ...samplePlan, blocks: [1, 0], order: 'random', orderSeed: 4 } as const;
    const description = describeSet(player, { ...planned, plan }, head);
    expect(description).toMatchObject({
      source: 'sensors',
      player: 'Heron',
      consentOn: '2026-05-31',
      statureM: 1.33,
      implement: 'long racket',
      ball: 'standard',
      feed: 'from the hand',
      lengthsM: { upperArm: 0.247, forearm: 0.194, implement: 0.65 },
      sensorFromJointM: { upperArm: 0.15, forearm: 0.14, implement: 0.12 },
      plan,
    });
    expect(description).not.toHaveProperty('armEstimatedFromStatureM');
    expect(readDescription(description)).toEqual(description);
  });

  it('leaves out what nobody said', () => {
    const { statureM: _, ...unmeasured } = player;
    const description = describeSet(unmeasured, planned, head);
    expect(description).not.toHaveProperty('statureM');
    expect(description).not.toHaveProperty('feed');
    expect(readDescription(description)).toEqual(description);
  });

  it('describes nobody who has not agreed', () => {
    const { consentOn: _, ...silent } = player;
    expect(() => describeSet(silent, planned, head)).toThrow('Heron has not agreed');
  });
});
