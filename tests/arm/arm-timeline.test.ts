import { describe, expect, it } from 'vitest';
import {
  appendInstant,
  createTimeline,
  GRID_CAPACITY,
  GRID_STEP_US,
  instantAt,
  oldestInstant,
  slotOf,
} from '../../src/core/arm/arm-timeline.ts';
import { quaternion } from '../../src/core/maths/quaternion.ts';
import { vector3 } from '../../src/core/maths/vector.ts';

const START_US = 3_000_000;
const ORIENTATIONS = [quaternion(), quaternion(0, 1), quaternion(0, 0, 1)];

function filled(instants: number) {
  const timeline = createTimeline();
  timeline.nextUs = START_US;
  for (let n = 0; n < instants; n++) {
    const gyr = [vector3(n / 2), vector3(0, n / 4), vector3(0, 0, -n)];
    appendInstant(timeline, ORIENTATIONS, gyr, vector3(n, -n, 2 * n), n % 16);
  }
  return timeline;
}

describe('arm timeline', () => {
  it('keeps what was appended at its place', () => {
    const timeline = filled(7);
    const slot = slotOf(5);
    expect(timeline.timeUs[slot]).toBe(START_US + 5 * GRID_STEP_US);
    expect([...timeline.q.subarray(12 * slot, 12 * slot + 12)]).toEqual([
      1, 0, 0, 0, 0, 1, 0, 0, 0, 0, 1, 0,
    ]);
    expect([...timeline.implementRate.subarray(3 * slot, 3 * slot + 3)]).toEqual([5, -5, 10]);
    expect([...timeline.turnRateRadS.subarray(3 * slot, 3 * slot + 3)]).toEqual([2.5, 1.25, 5]);
    expect(timeline.flags[slot]).toBe(5);
  });

  it.each([100, GRID_CAPACITY, 5 * GRID_CAPACITY + 3])(
    'finds the instant at or before a time after %i instants',
    (instants) => {
      const timeline = filled(instants);
      const oldest = oldestInstant(timeline);
      expect(oldest).toBe(Math.max(0, instants - GRID_CAPACITY));
      for (const n of [oldest, oldest + 1, instants - 2, instants - 1]) {
        const at = START_US + n * GRID_STEP_US;
        expect(instantAt(timeline, at)).toBe(n);
        if (n < instants - 1) expect(instantAt(timeline, at + GRID_STEP_US - 1)).toBe(n);
        expect(instantAt(timeline, at - 1)).toBe(n - 1);
      }
      expect(instantAt(timeline, START_US + instants * GRID_STEP_US * 2)).toBe(instants - 1);
    },
  );
});
