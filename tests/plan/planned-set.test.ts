import { describe, expect, it } from 'vitest';
import { readPlannedSet } from '../../src/core/plan/planned-set.ts';
import { samplePlan } from '../recording/sample-plan.ts';

const planned = {
  plan: samplePlan,
  sweetSpotBand: { reachM: 0.9, halfWidthM: 0.03 },
  scoreSteps: [3, 2, 1, 0],
};

describe('readPlannedSet', () => {
  it('gives back what was kept', () => {
    expect(readPlannedSet(JSON.stringify(planned))).toEqual(planned);
    const eye = { ...planned, sweetSpotBand: null };
    expect(readPlannedSet(JSON.stringify(eye))).toEqual(eye);
  });

  it.each([
    ['', 'the kept plan is not JSON'],
    ['[]', 'the kept plan must be an object, found a list of 0'],
    [JSON.stringify({ ...planned, plan: undefined }), 'plan must be an object, found nothing'],
    [JSON.stringify({ ...planned, sweetSpotBand: {} }), 'sweetSpotBand.reachM must be a number'],
    [JSON.stringify({ ...planned, scoreSteps: ['10'] }), 'scoreSteps[0] must be a number'],
  ])('refuses %s', (text, words) => {
    expect(() => readPlannedSet(text)).toThrow(words);
  });
});
