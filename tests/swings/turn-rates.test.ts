import { expect, test } from 'vitest';
import { turnRates } from '../../src/core/swings/turn-rates.ts';

const STEP_S = 0.005;

/** Each sensor turns about an axis of its own at this speed. */
function turning(ratesRadS: readonly [number, number, number], rows: number): Float64Array {
  const q = new Float64Array(12 * rows);
  for (let row = 0; row < rows; row++)
    ratesRadS.forEach((rate, k) => {
      const half = (rate * row * STEP_S) / 2;
      q[12 * row + 4 * k] = Math.cos(half);
      q[12 * row + 4 * k + 1 + k] = Math.sin(half);
    });
  return q;
}

// Closed form: a turn at constant speed.
test('turnRates of constant turns are those speeds, at the ends too', () => {
  const wanted = [3, 10, 34.9] as const;
  const found = turnRates({ q: turning(wanted, 7) });
  found.forEach((column, k) => {
    expect(column).toHaveLength(7);
    for (const rate of column) expect(rate).toBeCloseTo(wanted[k]!, 9);
  });
});
