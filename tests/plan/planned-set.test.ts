import { describe, expect, it } from 'vitest';
import { readPlannedSet } from '../../src/core/plan/planned-set.ts';
import { samplePlan } from '../recording/sample-plan.ts';

const planned = {
  plan: samplePlan,
  scoreSteps: [3, 2, 1, 0],
};

describe('readPlannedSet', () => {
  it('gives back what was kept', () => {
    expect(readPlannedSet(JSON.stringify(planned))).toEqual(planned);
  });

  it.each([
    ['', 'the kept plan is not JSON'],
    ['[]', 'the kept plan must be an object, found a list of 0'],
    [JSON.stringify({ ...planned, plan: undefined }), 'plan must be an object, found nothing'],
    [JSON.stringify({ ...planned, scoreSteps: ['10'] }), 'scoreSteps[0] must be a number'],
  ])('refuses %s', (text, words) => {
    expect(() => readPlannedSet(text)).toThrow(words);
  });
});
