import { describe, expect, it } from 'vitest';
import { carryOverCurve } from '../../src/core/measures/carry-over.ts';
import { reachInPercent } from '../../src/core/measures/reach-table.ts';
import { answered } from '../statistics/answers.ts';
import { swingsOfModes } from './hand-made-swings.ts';

describe('carryOverCurve', () => {
  it('rises as the closed form says when one deviation fades and another comes up', () => {
    // r = (1 - s) a + s b, a and b uncorrelated: corr(r(s), r(1)) = s / sqrt((1 - s)^2 + s^2).
    const fades = swingsOfModes([(s) => 0.02 * (1 - s), (s) => 0.02 * s]);
    const { value, low, high, fromMid } = carryOverCurve(reachInPercent(fades));
    for (const p of [0, 10, 30, 50, 80, 100]) {
      const s = p / 100;
      expect(value[p]).toBeCloseTo(s / Math.hypot(1 - s, s), 10);
    }
    // Fisher at n = 12: tanh(atanh(1/sqrt 2) -+ 1.959964/3), worked out apart with Python 3.
    expect(low[50]).toBeCloseTo(0.22418, 4);
    expect(high[50]).toBeCloseTo(0.9112, 3);
    expect(answered(fromMid).value).toBeCloseTo(Math.SQRT1_2, 10);
  });

  it('stays at 1 for a deviation that is kept and at -1 for one that is turned round', () => {
    const kept = carryOverCurve(reachInPercent(swingsOfModes([(s) => 0.03 - 0.01 * s])));
    expect([...kept.value].every((r) => Math.abs(r - 1) < 1e-9)).toBe(true);
    const turned = carryOverCurve(reachInPercent(swingsOfModes([(s) => s - 0.75])));
    expect(answered(turned.fromMid).value).toBeCloseTo(-1, 9);
  });

  it('is NaN where reach has no spread, and says so for mid-swing', () => {
    const { value, fromMid } = carryOverCurve(
      reachInPercent(swingsOfModes([(s) => 0.02 * Math.max(0, s - 0.5)])),
    );
    expect(value[30]).toBeNaN();
    expect(value[80]).toBeCloseTo(1, 9);
    expect(fromMid).toEqual({ reason: 'no-spread' });
  });

  it('asks for four swings', () => {
    const three = swingsOfModes([() => 0.02]).slice(0, 3);
    expect(carryOverCurve(reachInPercent(three)).fromMid).toEqual({
      reason: 'too-few',
      need: 4,
      have: 3,
    });
  });
});
