import { describe, expect, it } from 'vitest';
import { SEGMENTS } from '../../src/core/arm/segments.ts';
import { confirmAndBegin, enterPlan, enterPlayer } from './begin-sensor-set.ts';
import { connectSensor, endAndSaveSet } from './ble/radio-set.ts';
import { hasRadio, withRadio } from './ble/with-radio.ts';
import { USUAL_NAMES } from './screen-names.ts';

describe.skipIf(!hasRadio)('a group that shares the sensors', () => {
  it('goes on with the next player in two taps, the sensors by themselves, and is asked to zero', () =>
    withRadio({}, async (set) => {
      const { page } = set;
      await enterPlayer(page, { ...USUAL_NAMES, player: 'Second' });
      await page.getByRole('button', { name: 'Save, then plan' }).click();
      await page.getByRole('link', { name: 'Player' }).click();
      await page.getByRole('button', { name: /New player/ }).click();
      await page.getByLabel('Player, a made-up name').fill('First');
      await page.getByLabel('Shoulder to elbow').fill('26');
      await page.getByLabel('Elbow to wrist').fill('20.5');
      await page.getByLabel('Player and parent agree').check();
      await enterPlan(page);
      await page.getByLabel('Reach hoped for').fill('88');
      await confirmAndBegin(page);
      for (const segment of SEGMENTS) await connectSensor(set, segment);

      set.choose('none: the chooser must not be needed');
      await page.getByRole('button', { name: 'End set' }).click();
      await page.getByRole('button', { name: 'Second', exact: true }).click();

      await page.getByText('Second', { exact: false }).first().waitFor();
      await page.getByRole('button', { name: /Zero now/ }).waitFor();
      expect(SEGMENTS.map((segment) => set.sensors[segment].peripheral.isConnected)).toEqual([
        true,
        true,
        true,
      ]);
      const { description, complete } = await endAndSaveSet(set);
      expect(complete).toBe(true);
      // the arm of the second, the kit of the first, and no reach hoped for by another arm
      expect(description).toMatchObject({
        player: 'Second',
        lengthsM: { upperArm: 0.247, forearm: 0.194, implement: 0.45 },
        sweetSpotBand: null,
        plan: { blocks: [0, 0, 0, 0], swingsPerBlock: 10 },
      });
    }));
});
