import { describe, expect, it } from 'vitest';
import { circularSummary, couplingAngle } from '../../src/core/statistics/circular.ts';
import { isUnavailable } from '../../src/core/statistics/estimate.ts';

const RAD = Math.PI / 180;
/** reference.md B9; computed there with R circular and scipy, which agree. */
const SMALL = [350, 10, 20, 5, 355, 15].map((d) => d * RAD);
const TURTLES = [40, 303, 326, 285, 296, 314, 20, 308, 299, 296].map((d) => d * RAD);

describe('circularSummary', () => {
  it.each([
    ['six angles around north', SMALL, 5.846656330524, 0.983050969338],
    ['arrivals of turtles', TURTLES, 317.235319509156, 0.818649629674],
  ] as const)('gives mean and resultant of %s', (_, angles, meanDeg, resultant) => {
    const summary = circularSummary(angles);
    if (isUnavailable(summary) || isUnavailable(summary.meanRad)) throw new Error('no answer');
    expect(summary.meanRad / RAD).toBeCloseTo(meanDeg, 9);
    expect(summary.resultantLength).toBeCloseTo(resultant, 11);
  });

  it('gives the angular deviation', () => {
    const summary = circularSummary(SMALL);
    if (isUnavailable(summary)) throw new Error(summary.reason);
    expect(summary.angularDeviationRad / RAD).toBeCloseTo(10.54897013772, 9);
  });

  it('has no mean for directions that cancel, and no answer for none', () => {
    expect(circularSummary([0, Math.PI])).toMatchObject({ meanRad: { reason: 'no-direction' } });
    expect(circularSummary([])).toEqual({ reason: 'too-few', need: 1, have: 0 });
  });
});

describe('couplingAngle', () => {
  it.each([
    [1, 1, 45],
    [2, 1, 26.5650511771],
    [-1, 1, 135],
    [0, 1, 90],
    [-1, -1, 225],
  ])('of steps %d and %d is %d degrees (reference.md B9)', (proximal, distal, degrees) => {
    const angle = couplingAngle(proximal, distal);
    if (isUnavailable(angle)) throw new Error(angle.reason);
    expect(angle / RAD).toBeCloseTo(degrees, 9);
  });

  it('has no direction where nothing moves', () => {
    expect(couplingAngle(0, 0)).toEqual({ reason: 'no-direction' });
  });
});
