import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { readDescription } from '../../src/core/recording/description-json.ts';
import type { SetDescription } from '../../src/core/recording/set-description.ts';
import { readSet } from '../../src/core/recording/set-reader.ts';
import { samplePlan } from './sample-plan.ts';
import { sampleDescription, setFile } from './sample-set.ts';

const planned: SetDescription = {
  ...sampleDescription,
  consentOn: '2024-02-29',
  statureM: 1.33,
  plan: samplePlan,
};

describe('plan, consent and stature of a set', () => {
  it('are kept in the file', () => {
    const result = readSet(setFile([], planned));
    if (!result.ok) throw new Error(result.error.message);
    expect(result.set.description).toEqual(planned);
  });

  it('are absent from a demo set made before these fields', () => {
    const path = new URL('../../recorded-streams/player-a-short-racket.mcap', import.meta.url);
    const result = readSet(readFileSync(path));
    if (!result.ok) throw new Error(result.error.message);
    const fields = Object.keys(result.set.description);
    for (const field of ['plan', 'consentOn', 'statureM']) expect(fields).not.toContain(field);
  });

  it('drop fields that are not known', () => {
    const plan = { ...samplePlan, colour: 'red', target: { ...samplePlan.target, heightM: 1 } };
    expect(readDescription({ ...planned, plan }).plan).toEqual(samplePlan);
  });

  it('may have no target, one condition and a random order with its seed', () => {
    const plan = { ...samplePlan, target: null, order: 'random', orderSeed: 0 };
    expect(readDescription({ ...planned, plan }).plan).toEqual(plan);
    const one = { ...samplePlan, conditions: samplePlan.conditions.slice(0, 1), blocks: [0] };
    expect(readDescription({ ...planned, plan: one }).plan).toEqual(one);
  });

  // 2023 is no leap year, 1900 was none, 2000 was one (Gregorian calendar).
  it.each(['2023-02-28', '2000-02-29', '2024-12-31'])('consent may be of %s', (consentOn) => {
    expect(readDescription({ ...planned, consentOn }).consentOn).toBe(consentOn);
  });
  it.each([
    '2023-02-29',
    '1900-02-29',
    '2024-04-31',
    '2024-13-01',
    '2024-00-10',
    '24-01-01',
    '2024-1-1',
    '01.02.2024',
    '2024-01-0x',
    '',
  ])('consent cannot be of %j', (consentOn) => {
    expect(() => readDescription({ ...planned, consentOn })).toThrow(
      'consentOn must be a day written year-month-day',
    );
  });

  const condition = (part: object) => ({
    conditions: [{ ...samplePlan.conditions[0], ...part }, samplePlan.conditions[1]],
  });
  const target = (part: object) => ({ target: { ...samplePlan.target, ...part } });
  const feedback = (part: object) => ({ feedback: { ...samplePlan.feedback, ...part } });
  it.each([
    [{ task: 7 }, 'plan.task must be text'],
    [{ target: undefined }, 'plan.target must be an object, found nothing'],
    [target({ widthM: 0 }), 'plan.target.widthM must be a number from 0.01 to 100, found 0'],
    [target({ stepM: '1' }), 'plan.target.stepM must be a number'],
    [{ conditions: [] }, 'plan.conditions must have one at least'],
    [{ conditions: {} }, 'plan.conditions must be a list'],
    [condition({ implement: null }), 'the implement of plan.conditions[0] must be text'],
    [condition({ implementLengthM: 45 }), 'implementLengthM of plan.conditions[0] must be'],
    [condition({ ball: 'foam' }), 'its ball is "foam", not "training"'],
    [{ blocks: [] }, 'plan.blocks must have one block at least'],
    [{ blocks: [0, 2] }, 'plan.blocks[1] must be a number from 0 to 1, found 2'],
    [{ blocks: [0, 0.5] }, 'plan.blocks[1] must be a whole number'],
    [{ blocks: [1, 0] }, 'its implement is "long racket", not "short racket"'],
    [{ order: 'ABBA' }, 'plan.order must be one of as-listed, mirrored, random'],
    [{ order: 'random' }, 'plan.orderSeed must be a number'],
    [{ order: 'random', orderSeed: 1.5 }, 'plan.orderSeed must be a whole number'],
    [{ orderSeed: 5 }, 'plan.orderSeed must be null, since the order is mirrored'],
    [{ swingsPerBlock: 0 }, 'plan.swingsPerBlock must be a number from 1'],
    [feedback({ cue: 'light' }), 'plan.feedback.cue must be one of none, tone, speech'],
    [feedback({ isFading: 'yes' }), 'plan.feedback.isFading must be true or false'],
    [{ cautionsConfirmedAtMs: null }, 'plan.cautionsConfirmedAtMs must be a number'],
  ])('are refused with %j', (part, words) => {
    expect(() => readDescription({ ...planned, plan: { ...samplePlan, ...part } })).toThrow(words);
  });

  it.each([
    [{ statureM: 133 }, 'statureM must be a number from 0.7 to 2.3, found 133'],
    [{ statureM: null }, 'statureM must be a number'],
    [{ consentOn: 20240229 }, 'consentOn must be text'],
    [{ plan: null }, 'plan must be an object'],
  ])('are refused with %j beside the plan', (part, words) => {
    expect(() => readDescription({ ...planned, ...part })).toThrow(words);
  });
});
