import { describe, expect, it } from 'vitest';
import { libraryOf, type PlayerRow, playerAfter } from '../../src/storage/library-rows.ts';
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
