import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { unwrapTick } from '../../src/core/clocks/tick-unwrap.ts';

const WRAP = 2 ** 32;

describe('unwrapTick', () => {
  it('goes on past the wrap, any number of times', () => {
    expect(unwrapTick(WRAP - 10, 20)).toBe(WRAP + 20);
    expect(unwrapTick(7 * WRAP - 10, 20)).toBe(7 * WRAP + 20);
  });

  it('answers the same tick for a repeated packet and an earlier one for a late packet', () => {
    expect(unwrapTick(3 * WRAP + 500, 500)).toBe(3 * WRAP + 500);
    expect(unwrapTick(3 * WRAP + 500, 400)).toBe(3 * WRAP + 400);
  });

  it('goes back over the wrap for a packet from before it', () => {
    expect(unwrapTick(WRAP + 20, WRAP - 10)).toBe(WRAP - 10);
    expect(unwrapTick(20, WRAP - 10)).toBe(-10);
  });

  it('starts from a fractional tick', () => {
    expect(unwrapTick(WRAP - 0.5, 5)).toBe(WRAP + 5);
  });

  it('finds every step of less than half the range from the low 32 bits alone', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 0, max: 2 ** 45 }),
        fc.integer({ min: -(2 ** 31) + 1, max: 2 ** 31 - 1 }),
        (previous, step) => {
          const next = previous + step;
          const low = ((next % WRAP) + WRAP) % WRAP;
          expect(unwrapTick(previous, low)).toBe(next);
        },
      ),
    );
  });
});
