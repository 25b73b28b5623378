import { describe, expect, it } from 'vitest';
import { SEGMENTS } from '../../src/core/arm/segments.ts';
import {
  beginSet,
  beginSetAgain,
  connectSensor,
  endAndSaveSet,
  untilHandedOver,
  untilPlayed,
} from './ble/radio-set.ts';
import { hasRadio, withRadio } from './ble/with-radio.ts';

describe.skipIf(!hasRadio)('the coach with sensors over the emulated radio', () => {
  it('sees which one blinks, how full the batteries are, finds them after a reload and forgets one', () =>
    withRadio({ traits: { forearm: { batteryPercent: 8 } } }, async (set) => {
      const { page, sensors } = set;
      const blinking = () => SEGMENTS.filter((segment) => sensors[segment].isBlinking);
      await beginSet(set);
      for (const segment of SEGMENTS) await connectSensor(set, segment);
      expect(blinking()).toEqual([]);
      await page.getByRole('button', { name: 'Blink forearm' }).click();
      await expect.poll(blinking).toEqual(['forearm']);

      await page.getByRole('button', { name: /Zero now/ }).click();
      set.clock.startedMs = performance.now();
      const strip = page.locator('.strip-sensors li');
      await strip.filter({ hasText: 'upper arm' }).getByText('good, 73 %').waitFor();
      await strip.filter({ hasText: 'implement' }).getByText('good, 73 %').waitFor();
      await strip.filter({ hasText: 'forearm' }).getByText('battery 8 %').waitFor();
      await page.getByText('The battery of the forearm sensor is at 8 %').waitFor();
      await untilPlayed(set, 6);
      expect(blinking()).toEqual([]);
      await untilHandedOver(set);
      const stored = await endAndSaveSet(set);
      expect(stored).toMatchObject({ complete: true, lostBytes: 0, skippedRecords: 0 });

      set.choose('none: the chooser must not be needed');
      await page.reload();
      await beginSetAgain(set);
      await page.getByRole('button', { name: /Zero now/ }).waitFor();
      expect(SEGMENTS.map((segment) => sensors[segment].peripheral.isConnected)).toEqual([
        true,
        true,
        true,
      ]);
      await page.getByRole('button', { name: 'Blink implement' }).click();
      await expect.poll(blinking).toEqual(['implement']);

      const remembered = () =>
        page.evaluate(async () => (await navigator.bluetooth.getDevices()).map(({ name }) => name));
      expect((await remembered()).toSorted()).toEqual(['Sensor F', 'Sensor I', 'Sensor U']);
      await page.getByRole('button', { name: 'Forget forearm' }).click();
      await expect
        .poll(async () => (await remembered()).toSorted())
        .toEqual(['Sensor I', 'Sensor U']);
      expect(sensors.forearm.peripheral.isConnected).toBe(false);
    }));
});
