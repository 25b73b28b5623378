import { describe, expect, inject, it } from 'vitest';
import { SEGMENTS } from '../../src/core/arm/segments.ts';
import { hasBusDaemon } from './ble/private-bus.ts';
import {
  beginSet,
  compareWithMade,
  connectAllAndZero,
  openRadioSet,
  type RadioSet,
  saveSet,
} from './ble/radio-set.ts';
import { waitForSwing } from './simulated-set.ts';

const underTest = inject('browserUnderTest');
const hasBus = hasBusDaemon();
if (!hasBus) {
  const words = 'No dbus-daemon: the emulated radio is not tested. Install the package dbus.';
  if (process.env.CI) throw new Error(words);
  console.warn(words);
}

const sleep = (seconds: number) => new Promise((resolve) => setTimeout(resolve, 1000 * seconds));

async function withRadio(
  faults: Parameters<typeof openRadioSet>[2],
  use: (set: RadioSet) => Promise<void>,
): Promise<void> {
  const set = await openRadioSet(underTest!.chromiumPath, underTest!.baseUrl, faults);
  try {
    await use(set);
    expect(set.errors).toEqual([]);
  } finally {
    await set.stop();
  }
}

describe.skipIf(underTest === null || !hasBus)('three sensors over the emulated radio', () => {
  it('are recorded whole for 60 s: every sample once, bit for bit', async () => {
    await withRadio({}, async (set) => {
      await beginSet(set);
      await connectAllAndZero(set);
      await sleep(60);
      await waitForSwing(set.page, 9);
      const records = await saveSet(set.page);
      for (const segment of SEGMENTS) {
        const found = compareWithMade(records, segment, set.sensors[segment]);
        // 20 packets of 10 samples a second, the rate up to 2 % off
        expect(found.packets).toBeGreaterThan(60 * 20 * 0.97);
        expect(found).toMatchObject({ missing: 0, repeated: 0, different: 0 });
      }
    });
  });

  it('are still whole with 5 % withheld and one link down for 8 s', async () => {
    const withheld = 0.05;
    const faults = { upperArm: { withheld }, forearm: { withheld }, implement: { withheld } };
    await withRadio(faults, async (set) => {
      await beginSet(set);
      await connectAllAndZero(set);
      await sleep(20);
      await set.sensors.forearm.dropFor(8000);
      await sleep(32);
      const records = await saveSet(set.page);
      for (const segment of SEGMENTS) {
        const found = compareWithMade(records, segment, set.sensors[segment]);
        expect(found.packets).toBeGreaterThan(58 * 20 * 0.97);
        // The newest may have been asked for again when the set ended.
        expect(found).toMatchObject({ repeated: 0, different: 0 });
        expect(found.missing).toBeLessThanOrEqual(3);
      }
      expect(records.filter((r) => r.kind === 'event' && r.event.type === 'packets-lost')).toEqual(
        [],
      );
      await set.page.locator('.set-line a').first().click();
      await set.page.locator('.swing-table').waitFor();
      const table = await set.page.locator('.swing-table').textContent();
      expect(table).not.toMatch(/missing/);
    });
  });

  it('mark the gap of a link down for 20 s, and void the swings it touches', async () => {
    await withRadio({}, async (set) => {
      await beginSet(set);
      await connectAllAndZero(set);
      await sleep(15);
      await set.sensors.forearm.dropFor(20_000);
      await sleep(12);
      const records = await saveSet(set.page);
      const lost = records.flatMap((r) =>
        r.kind === 'event' && r.event.type === 'packets-lost' ? [r.event.count] : [],
      );
      expect(lost.reduce((sum, count) => sum + count, 0)).toBeGreaterThan(100);
      await set.page.locator('.set-line a').first().click();
      await set.page.locator('.swing-table').waitFor();
      const table = await set.page.locator('.swing-table').textContent();
      expect(table).toMatch(/data was missing/);
    });
  });
});
