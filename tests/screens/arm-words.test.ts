import { expect, it } from 'vitest';
import type { EffectiveDimension } from '../../src/core/measures/effective-dimension.ts';
import type { StateSpaceArea } from '../../src/core/measures/state-space-area.ts';
import { areaWords, dimensionWords } from '../../src/screens/reading/arm-words.ts';

const FEW = { reason: 'too-few', need: 10, have: 3 } as const;
const RAD = Math.PI / 180;
const estimate = (value: number, low: number, high: number) => ({
  value,
  low,
  high,
  level: 0.95,
  n: 24,
});

it('says at contact between what the number lies, with interval and number of swings', () => {
  const segments = Array.from({ length: 11 }, (_, i) => estimate(i === 10 ? 1.62 : 9, 1.03, 2.21));
  const words = dimensionWords({ segments } as unknown as EffectiveDimension);
  expect(words).toContain('vary as 1.6 (1.0 to 2.2) parts');
  expect(words).toMatch(/1 is all as one, 3 is each by itself .*, 24 swings\.$/);
});

it('says an area as a square: 1600 square degrees are 40° by 40°', () => {
  const of = (value: number, low: number, high: number) => ({
    elbowWrist: { visitedRad2: estimate(value * RAD ** 2, low * RAD ** 2, high * RAD ** 2) },
  });
  const words = (area: ReturnType<typeof of>) => areaWords(area as unknown as StateSpaceArea);
  expect(words(of(1600, 1369, 1764))).toContain('a square of 40° (37° to 42°) of elbow');
  // The lower end of an interval may fall below nothing; an area cannot.
  expect(words(of(100, -5, 225))).toContain('10° (0° to 15°)');
});

it('says why it is not known', () => {
  expect(dimensionWords(FEW)).toContain(': 3 of at least 10 swings.');
  expect(areaWords(FEW)).toContain(': 3 of at least 10 swings.');
});
