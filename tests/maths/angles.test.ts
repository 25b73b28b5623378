import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { wrapAngle } from '../../src/core/maths/angles.ts';

const angles = fc.double({ min: -1e4, max: 1e4, noNaN: true });

describe('wrapAngle', () => {
  it('leaves angles above -pi and up to pi as they are', () => {
    for (const angle of [0, 1, -1, 3.14, -3.14, Math.PI]) expect(wrapAngle(angle)).toBe(angle);
  });

  it('takes -pi for pi and whole turns for nothing', () => {
    expect(wrapAngle(-Math.PI)).toBe(Math.PI);
    expect(wrapAngle(2 * Math.PI)).toBe(0);
    expect(wrapAngle(-6 * Math.PI)).toBe(0);
  });

  it('gives the same direction within half a turn', () => {
    fc.assert(
      fc.property(angles, (angle) => {
        const wrapped = wrapAngle(angle);
        // 1e4 rad are known to 1e-12
        expect(Math.abs(wrapped)).toBeLessThanOrEqual(Math.PI + 2e-12);
        expect(
          Math.hypot(Math.cos(wrapped) - Math.cos(angle), Math.sin(wrapped) - Math.sin(angle)),
        ).toBeLessThan(1e-11);
      }),
    );
  });

  it('does nothing the second time and is odd away from half turns', () => {
    fc.assert(
      fc.property(angles, (angle) => {
        const wrapped = wrapAngle(angle);
        if (Math.abs(Math.abs(wrapped) - Math.PI) < 1e-9) return;
        expect(wrapAngle(wrapped)).toBe(wrapped);
        expect(wrapAngle(-angle)).toBeCloseTo(-wrapped, 11);
      }),
    );
  });
});
