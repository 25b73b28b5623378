import { beforeEach, describe, expect, it } from 'vitest';
import type { PlayerRow } from '../../src/screens/library-model.ts';
import { dayOf } from '../../src/screens/player/consent.ts';
import { entryOfPlayer, NEW_PLAYER, playerOfEntry } from '../../src/screens/player/player-entry.ts';
import { createPlayerModel } from '../../src/screens/player/player-model.ts';
import { fakeClient } from './fake-client.ts';

const heron: PlayerRow = {
  player: 'Heron',
  handedness: 'left',
  consentOn: '2026-05-31',
  statureM: 1.33,
  upperArmM: 0.247,
  forearmM: 0.194,
  upperArmSensorM: 0.15,
  forearmSensorM: 0.14,
  seenMs: 2000,
};
const { consentOn: _, ...withoutConsent } = heron;
const otter: PlayerRow = { ...withoutConsent, player: 'Otter', seenMs: 1000 };

describe('a player as typed', () => {
  it('comes back as known', () => {
    expect(playerOfEntry(entryOfPlayer(heron), heron.seenMs)).toEqual(heron);
    expect(playerOfEntry(entryOfPlayer(otter), otter.seenMs)).toEqual(otter);
  });

  it('estimates the arm from stature when asked to, and says so', () => {
    // .186 and .146 of 1.28 m, reference.md E.
    const entry = { ...NEW_PLAYER, player: ' Finch ', armBy: 'stature', statureCm: 128 } as const;
    const row = playerOfEntry(entry, 5);
    expect(row.upperArmM).toBeCloseTo(0.23808, 12);
    expect(row.forearmM).toBeCloseTo(0.18688, 12);
    expect(row).toMatchObject({ player: 'Finch', statureM: 1.28, armEstimatedFromStatureM: 1.28 });
    expect(entryOfPlayer(row)).toMatchObject({ armBy: 'stature', statureCm: 128 });
    expect(row).not.toHaveProperty('consentOn');
  });

  it('refuses to estimate from a stature that was left out or typed in metres', () => {
    for (const statureCm of [Number.NaN, 1.28]) {
      const entry = { ...NEW_PLAYER, armBy: 'stature', statureCm } as const;
      expect(() => playerOfEntry(entry, 0)).toThrow(RangeError);
    }
  });

  it('agrees on the day by the clock on the wall, not by that of Greenwich', () => {
    expect(dayOf(new Date(2026, 0, 5, 0, 1))).toBe('2026-01-05');
    expect(dayOf(new Date(2026, 11, 31, 23, 59))).toBe('2026-12-31');
  });
});

describe('the Player screen', () => {
  let worker: ReturnType<typeof fakeClient>;
  let chosen: PlayerRow[];
  let model: ReturnType<typeof createPlayerModel>;
  const know = (...players: PlayerRow[]) =>
    worker.answer({ type: 'library', library: { players, implements: [], balls: [] } });
  const kept = () =>
    worker.asked.flatMap((ask) => (ask.type === 'keep-player' ? [ask.player] : []));

  beforeEach(() => {
    worker = fakeClient();
    chosen = [];
    model = createPlayerModel({
      client: worker.client,
      nowMs: () => 3000,
      onChosen: (player) => chosen.push(player),
    });
  });

  it('shows who is known, and at once the form where nobody is', () => {
    expect(worker.asked).toEqual([{ type: 'list-library' }]);
    expect(model.form.value).toBeNull();
    know(heron, otter);
    expect(model.players.value).toEqual([heron, otter]);
    expect(model.form.value).toBeNull();
    know();
    expect(model.form.value).toEqual({ entry: NEW_PLAYER, isKnown: false });
  });

  it('takes a known player in one tap, but asks for consent first where there is none', () => {
    know(heron, otter);
    model.choose(heron);
    expect(chosen).toEqual([heron]);
    model.choose(otter);
    expect(chosen).toHaveLength(1);
    expect(model.form.value).toMatchObject({ isKnown: true, entry: { consentOn: null } });
    model.change({ consentOn: '2026-06-01' });
    model.save();
    const agreed = { ...otter, consentOn: '2026-06-01', seenMs: 3000 };
    expect(kept()).toEqual([agreed]);
    expect(chosen.at(-1)).toEqual(agreed);
  });

  it('keeps a player without consent and goes no further', () => {
    know(heron);
    model.enterNew();
    model.change({ player: 'Finch', upperArmCm: 25, forearmCm: 20 });
    model.save();
    expect(kept()).toMatchObject([{ player: 'Finch', upperArmM: 0.25 }]);
    expect(chosen).toEqual([]);
    expect(model.form.value).toBeNull();
  });

  it('withdraws consent when it is edited away', () => {
    know(heron);
    model.edit(heron);
    model.change({ consentOn: null });
    model.save();
    expect(kept()).toEqual([{ ...withoutConsent, seenMs: 3000 }]);
    expect(chosen).toEqual([]);
  });

  it('does not write over somebody of the same name', () => {
    know(heron);
    model.enterNew();
    model.change({ player: 'Heron ', consentOn: '2026-06-01' });
    expect(model.problem.value).toContain('There is a player Heron already');
    model.save();
    expect(kept()).toEqual([]);
    model.change({ player: 'Heron 2' });
    expect(model.problem.value).toBeNull();
  });

  it('deletes the player who is open and looks again', () => {
    know(heron);
    model.edit(heron);
    model.deletePlayer();
    expect(worker.asked.at(-1)).toEqual({ type: 'delete-player', player: 'Heron' });
    worker.answer({ type: 'player-deleted', player: 'Heron', sets: 2 });
    expect(worker.asked.at(-1)).toEqual({ type: 'list-library' });
  });

  it('lets a new player in where storage is forbidden, and says so', () => {
    worker.answer({ type: 'trouble', trouble: { code: 'storage-unavailable', message: 'None.' } });
    expect(model.trouble.value).toBe('None.');
    model.enterNew();
    model.change({ player: 'Finch', upperArmCm: 25, forearmCm: 20, consentOn: '2026-06-01' });
    model.save();
    expect(chosen).toMatchObject([{ player: 'Finch' }]);
  });
});
