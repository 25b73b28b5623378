import { describe, expect, it } from 'vitest';
import { reachInPercent } from '../../src/core/measures/reach-table.ts';
import { fitSwingTiming } from '../../src/core/measures/swing-timing.ts';
import { timingNull } from '../../src/core/measures/timing-null.ts';
import { answered } from '../statistics/answers.ts';
import { UNCORRELATED } from './hand-made-swings.ts';
import { level, swingFromDirections } from './swing-from-directions.ts';

/** The same movement at a later or earlier time; `bend` turns the forearm, most at mid-swing, rad. */
function swing(lag: number, bend: number, durationS = 0.3) {
  return swingFromDirections(
    (share) => {
      const left = 1 - share - lag * (1 - share);
      const off = bend * (0.1 + Math.exp(-(((share - 0.5) / 0.08) ** 2)));
      return [level(-0.8 * left), level(0.5 - 2 * left ** 2 + off), level(1.2 - 2.6 * left ** 2)];
    },
    { durationS },
  );
}

describe('timingNull', () => {
  it('explains all of the spread of swings that differ in tempo alone', () => {
    const swings = [...UNCORRELATED[0]!].map((x) => swing(0.05 * x, 0));
    const table = reachInPercent(swings);
    const { spreadM, jitterS, leftSpreadM, left } = timingNull(
      swings,
      table,
      fitSwingTiming(swings),
    );
    // The fitted lags are within 3 % (see swing-timing.test.ts), and so is the spread.
    for (const p of [20, 50, 80])
      expect(Math.abs(spreadM[p]! / table.funnel.spreadM[p]! - 1)).toBeLessThan(0.05);
    // Aligned on contact, such swings narrow to nothing by themselves.
    expect(spreadM[100]! / spreadM[50]!).toBeLessThan(0.02);
    // Lag 0.05 (SD) of what is left of the swing: at mid-swing 0.025 of 300 ms.
    expect(jitterS).toBeCloseTo(0.0075, 4);
    expect(leftSpreadM / table.funnel.spreadM[50]!).toBeLessThan(0.01);
    expect(left.ratio).toEqual({ reason: 'no-spread' });
  });

  it('leaves a deviation of the elbow that is no matter of timing', () => {
    const swings = [...UNCORRELATED[0]!].map((x, i) => swing(0.05 * x, 0.1 * UNCORRELATED[1]![i]!));
    const bendsAlone = [...UNCORRELATED[1]!].map((x) => swing(0, 0.1 * x));
    const table = reachInPercent(swings);
    const { leftSpreadM, left } = timingNull(swings, table, fitSwingTiming(swings));
    // The fit gives timing the benefit of the doubt, and the bends disturb the fit: within a tenth.
    const wantedM = reachInPercent(bendsAlone).funnel.spreadM[50]!;
    expect(Math.abs(leftSpreadM / wantedM - 1)).toBeLessThan(0.1);
    expect(answered(left.ratio).value).toBeCloseTo(
      (leftSpreadM / table.funnel.spreadM[100]!) ** 2,
      9,
    );
  });
});
