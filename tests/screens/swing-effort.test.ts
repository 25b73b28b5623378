import { describe, expect, it } from 'vitest';
import type { ImplementRow } from '../../src/screens/kit/implement-entry.ts';
import {
  comparedImplements,
  effortWords,
  swingEffort,
} from '../../src/screens/kit/swing-effort.ts';

/** A uniform rod: m L^2 / 3 about its end, m L^2 / 12 about its middle (any textbook of mechanics). */
const LENGTH_M = 0.6;
const MASS_KG = 0.3;
const aboutMiddle = (MASS_KG * LENGTH_M ** 2) / 12;
const aboutTenCm = aboutMiddle + MASS_KG * 0.2 ** 2;

function rod(implement: string, inertiaKgM2: number, axisM: number, error = 1e-4): ImplementRow {
  return {
    implement,
    lengthM: 0.5,
    sensorM: 0.1,
    totalLengthM: LENGTH_M,
    massKg: MASS_KG,
    balancePointM: LENGTH_M / 2,
    inertia: { inertiaKgM2, standardError: error, axisM, measuredMs: 0 },
    seenMs: 0,
  };
}

describe('swing effort', () => {
  it('of a rod is the same from whichever axis it was measured about, less surely from a far one', () => {
    const near = swingEffort(rod('rod', aboutTenCm, 0.1))!;
    const end = swingEffort(rod('rod', (MASS_KG * LENGTH_M ** 2) / 3, 0))!;
    const middle = swingEffort(rod('rod', aboutMiddle, 0.3))!;
    for (const { inertiaKgM2 } of [near, end, middle]) {
      expect(inertiaKgM2).toBeCloseTo(aboutTenCm, 12);
    }
    expect(near.standardError).toBe(1e-4);
    expect(end.standardError).toBeGreaterThan(near.standardError);
  });

  it('is said as a ratio only where the measuring can tell them apart', () => {
    const light = rod('light bat', 0.02, 0.1);
    expect(effortWords([light, rod('heavy bat', 0.03, 0.1)])).toContain(
      'heavy bat is 1.5 times as hard to get swinging as light bat',
    );
    expect(effortWords([light, rod('other bat', 0.0202, 0.1)])).toContain('is shown');
    const { inertia: _, ...unmeasured } = light;
    expect(effortWords([unmeasured, light])).toContain('once the moment of inertia of two');
    expect(swingEffort(unmeasured)).toBeNull();
  });

  it('is a comparison only of two and more', () => {
    const { massKg: _, balancePointM: __, inertia: ___, ...bare } = rod('bare', 1, 0.1);
    const bat = rod('bat', 0.02, 0.1);
    expect(comparedImplements([bat, bare])).toEqual([]);
    expect(comparedImplements([bat, bare, bat])).toHaveLength(2);
  });
});
