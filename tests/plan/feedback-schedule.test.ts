import { describe, expect, it } from 'vitest';
import { isTold, toldShare } from '../../src/core/plan/feedback-schedule.ts';

const tone = { cue: 'tone', isOnlyOffBand: false, isFading: false } as const;
const fading = { ...tone, isFading: true } as const;

/** Places of the told swings of a block of ten, as a row of marks. */
function block(block: number, nBlocks: number, feedback: typeof tone | typeof fading = fading) {
  return Array.from({ length: 10 }, (_, swing) =>
    isTold(feedback, { block, nBlocks, swing }, false) ? 'x' : '.',
  ).join('');
}

describe('toldShare', () => {
  it('falls from all to a quarter in equal steps', () => {
    expect([0, 1, 2, 3].map((b) => toldShare(true, b, 4))).toEqual([1, 0.75, 0.5, 0.25]);
    expect([0, 1, 2].map((b) => toldShare(true, b, 3))).toEqual([1, 0.625, 0.25]);
    expect([0, 1].map((b) => toldShare(true, b, 2))).toEqual([1, 0.25]);
  });

  it('stays at all without fading and in a single block, at a quarter in blocks beyond the plan', () => {
    expect(toldShare(false, 3, 4)).toBe(1);
    expect(toldShare(true, 0, 1)).toBe(1);
    expect(toldShare(true, 6, 4)).toBe(0.25);
  });

  it('refuses a block that cannot be', () => {
    expect(() => toldShare(true, -1, 4)).toThrow(RangeError);
    expect(() => toldShare(true, 0, 0)).toThrow(RangeError);
    expect(() => toldShare(true, Number.NaN, 4)).toThrow(RangeError);
  });
});

describe('isTold', () => {
  it('tells every swing without fading', () => {
    expect(block(3, 4, tone)).toBe('xxxxxxxxxx');
  });

  // By hand: after n swings the share of n, rounded half up, has been told.
  it('fades over four blocks of ten, evenly within each', () => {
    expect([0, 1, 2, 3].map((b) => block(b, 4))).toEqual([
      'xxxxxxxxxx',
      'xx.xxx.xxx',
      'x.x.x.x.x.',
      '.x...x...x',
    ]);
  });

  it('never leaves two told swings further apart than the share allows', () => {
    for (let b = 0; b < 6; b++) {
      const share = 1 - (0.75 * b) / 5;
      const told = Array.from({ length: 100 }, (_, swing) => swing).filter((swing) =>
        isTold(fading, { block: b, nBlocks: 6, swing }, null),
      );
      expect(Math.abs(told.length - 100 * share)).toBeLessThanOrEqual(0.5 + 1e-9);
      const gaps = told.slice(1).map((swing, i) => swing - told[i]!);
      expect(Math.max(...gaps)).toBeLessThanOrEqual(Math.ceil(1 / share));
      expect(Math.min(...gaps)).toBeGreaterThanOrEqual(Math.floor(1 / share));
    }
  });

  it('is silent in the band when only what is off it is told', () => {
    const offBand = { ...tone, isOnlyOffBand: true };
    const place = { block: 0, nBlocks: 1, swing: 0 };
    expect(isTold(offBand, place, true)).toBe(false);
    expect(isTold(offBand, place, false)).toBe(true);
    expect(isTold(offBand, place, null), 'no band to be off').toBe(true);
    expect(isTold(tone, place, true)).toBe(true);
  });

  it('tells nothing without a cue', () => {
    expect(isTold({ ...tone, cue: 'none' }, { block: 0, nBlocks: 1, swing: 0 }, false)).toBe(false);
  });

  it('refuses a swing that cannot be', () => {
    expect(() => isTold(tone, { block: 0, nBlocks: 1, swing: -1 }, false)).toThrow(RangeError);
  });
});
