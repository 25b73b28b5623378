import { describe, expect, it } from 'vitest';
import {
  type BallRow,
  kitAfter,
  libraryOf,
  type PlayerRow,
  playerAfter,
} from '../../src/storage/library-rows.ts';
import { sampleDescription } from '../recording/sample-set.ts';

const told: PlayerRow = {
  player: sampleDescription.player,
  handedness: 'left',
  upperArmM: 0.27,
  forearmM: 0.22,
  upperArmSensorM: 0.15,
  forearmSensorM: 0.16,
  seenMs: sampleDescription.startedAtMs,
};
const real = { ...sampleDescription, source: 'sensors' } as const;

describe('libraryOf', () => {
  it('tells consent and stature when the file has them, and leaves them out when not', () => {
    expect(libraryOf(real, []).players).toEqual([told]);
    const consent = { consentOn: '2026-05-31', statureM: 1.4 };
    expect(libraryOf({ ...real, ...consent }, []).players).toEqual([{ ...told, ...consent }]);
  });

  it('does not offer the simulated player', () => {
    expect(libraryOf(sampleDescription, []).players).toEqual([]);
  });
});

describe('playerAfter', () => {
  const known = { ...told, consentOn: '2026-01-01', statureM: 1.4, upperArmM: 0.3 };

  it('takes what a later set measured and keeps the consent it does not speak of', () => {
    const later = { ...told, seenMs: told.seenMs + 1 };
    expect(playerAfter(later, known)).toEqual({
      ...later,
      consentOn: '2026-01-01',
      statureM: 1.4,
    });
    expect(playerAfter({ ...later, consentOn: '2026-02-02' }, known)?.consentOn).toBe('2026-02-02');
  });

  it('leaves what is known from later as it is', () => {
    expect(playerAfter(told, { ...known, seenMs: told.seenMs + 1 })).toBeNull();
  });

  it('takes anybody new', () => {
    expect(playerAfter(told, undefined)).toEqual(told);
  });
});

describe('kitAfter', () => {
  const known = { implement: 'bat', lengthM: 0.5, sensorM: 0.1, massKg: 0.4, seenMs: 10 };
  const told = { implement: 'bat', lengthM: 0.52, sensorM: 0.11, seenMs: 11 };

  it('takes lengths from a later set and leaves what the coach measured', () => {
    expect(kitAfter(told, known)).toEqual({ ...told, massKg: 0.4 });
    const ball = { ball: 'soft', diameterM: 0.04, compression: 'slow', seenMs: 10 };
    expect(kitAfter<BallRow>({ ball: 'soft', seenMs: 11 }, ball)).toEqual({ ...ball, seenMs: 11 });
  });

  it('leaves what is known from later as it is, and takes anything new', () => {
    expect(kitAfter(told, { ...known, seenMs: 12 })).toBeNull();
    expect(kitAfter(told, undefined)).toEqual(told);
  });
});
