import { describe, expect, it } from 'vitest';
import { readDescription } from '../../src/core/recording/description-json.ts';
import { describeSensorSet, FIRST_ENTRY } from '../../src/screens/start/sensor-set.ts';

const head = { setId: 'a', startedAtMs: 0, programVersion: 'test' };

describe('describeSensorSet', () => {
  it('takes the tape measure in centimetres', () => {
    const description = describeSensorSet(FIRST_ENTRY, head);
    expect(description.lengthsM).toEqual({ upperArm: 0.25, forearm: 0.195, implement: 0.45 });
    expect(description).not.toHaveProperty('armEstimatedFromStatureM');
    expect(readDescription(description)).toEqual(description);
  });

  it('estimates the arm from stature when asked to, and says so in the description', () => {
    // .186 and .146 of 1.28 m, reference.md E; the implement is always measured.
    const entry = { ...FIRST_ENTRY, armBy: 'stature', statureCm: 128 } as const;
    const description = describeSensorSet(entry, head);
    expect(description.lengthsM.upperArm).toBeCloseTo(0.23808, 12);
    expect(description.lengthsM.forearm).toBeCloseTo(0.18688, 12);
    expect(description.lengthsM.implement).toBe(0.45);
    expect(description.armEstimatedFromStatureM).toBe(1.28);
    expect(readDescription(description)).toEqual(description);
  });

  it('refuses to estimate from a stature that was left out or typed in metres', () => {
    for (const statureCm of [Number.NaN, 1.28]) {
      const entry = { ...FIRST_ENTRY, armBy: 'stature', statureCm } as const;
      expect(() => describeSensorSet(entry, head)).toThrow(RangeError);
    }
  });
});
