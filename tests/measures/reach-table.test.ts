import { describe, expect, it } from 'vitest';
import {
  columnOf,
  reachBeforeContact,
  reachInPercent,
} from '../../src/core/measures/reach-table.ts';
import { isUnavailable } from '../../src/core/statistics/estimate.ts';
import { level, swingFromDirections } from './swing-from-directions.ts';

const LENGTHS_M = [0.25, 0.2, 0.55] as const;

/** A straight arm whose reach is its length times a factor: reach known without kinematics. */
function straight(factor: number, durationS: number) {
  const lengthsM = LENGTHS_M.map((l) => factor * l) as [number, number, number];
  const along = level(0.3);
  return swingFromDirections(() => [along, along, along], { lengthsM, durationS });
}

describe('reach tables', () => {
  it('hold what is left of each swing when the mean is taken off, contact last', () => {
    const table = reachInPercent([straight(1, 0.3), straight(1.02, 0.3), straight(1.1, 0.3)]);
    expect([table.n, table.points, table.mid]).toEqual([3, 101, 50]);
    for (const p of [0, 50, 100])
      for (const [i, off] of [-0.04, -0.02, 0.06].entries())
        expect(columnOf(table, p)[i]).toBeCloseTo(off, 14);
    // SD of 0, 2, 10 cm: sqrt((16 + 4 + 36) / 2) cm.
    expect(table.funnel.spreadM[100]).toBeCloseTo(Math.sqrt(28) / 100, 14);
  });

  it('go back in time as far as every swing has data', () => {
    // The shortest swing has its last 0.21 s only: 42 steps of 5 ms before contact.
    const table = reachBeforeContact([
      straight(1, 0.31),
      straight(1.1, 0.2125),
      straight(1.02, 0.3),
    ]);
    if (isUnavailable(table)) throw new Error('no table');
    expect(table.points).toBe(43);
    expect(table.beforeContactS[0]).toBeCloseTo(0.21, 12);
    expect(table.beforeContactS.at(-1)).toBe(0);
    // Half of the mean duration of 274.2 ms is 137 ms: the nearest step is 135 ms.
    expect(table.beforeContactS[table.mid]).toBeCloseTo(0.135, 12);
  });

  it('put mid-swing at the first instant when half a swing is longer than the record', () => {
    const table = reachBeforeContact([straight(1, 0.9), straight(1.1, 0.8)]);
    if (isUnavailable(table)) throw new Error('no table');
    expect([table.points, table.mid]).toEqual([61, 0]);
  });

  it('read the noise of each swing at its own share', () => {
    const ramp = Float64Array.from({ length: 101 }, (_, p) => p / 1e4);
    const swings = [0.2, 0.4].map((durationS) => ({
      ...straight(1, durationS),
      reachCurveNoiseM: ramp,
    }));
    const table = reachBeforeContact(swings);
    if (isUnavailable(table)) throw new Error('no table');
    // 100 ms before contact: 50 % of the one (5 mm), 75 % of the other (7.5 mm).
    const at = table.beforeContactS.findIndex((s) => Math.abs(s - 0.1) < 1e-9);
    expect(table.funnel.floorM[at]).toBeCloseTo(Math.sqrt((0.005 ** 2 + 0.0075 ** 2) / 2), 12);
  });

  it('say so when a swing has no data at mid-swing or no duration', () => {
    const late = { ...straight(1, 0.3) };
    const cut = late.reachBeforeContactM.map((r, row) => (row < 50 ? Number.NaN : r));
    for (const bad of [
      { ...late, reachBeforeContactM: cut },
      { ...late, reachBeforeContactM: new Float64Array(61).fill(Number.NaN) },
      { ...late, durationS: Number.NaN },
      { ...late, durationS: 0 },
    ])
      expect(reachBeforeContact([straight(1, bad.durationS), bad])).toMatchObject({
        reason: 'not-finite',
      });
  });
});
