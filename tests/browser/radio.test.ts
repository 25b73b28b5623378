import { describe, expect, inject, it } from 'vitest';
import { SEGMENTS } from '../../src/core/arm/segments.ts';
import { hasBusDaemon } from './ble/private-bus.ts';
import {
  beginSet,
  compareWithMade,
  connectAllAndZero,
  endAndReadSet,
  openRadioSet,
  type RadioSet,
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
  it('are recorded whole although 5 % is withheld and one link is down for 8 s', async () => {
    const withheld = 0.05;
    const faults = { upperArm: { withheld }, forearm: { withheld }, implement: { withheld } };
    await withRadio(faults, async (set) => {
      await beginSet(set);
      await connectAllAndZero(set);
      await waitForSwing(set.page, 1);
      await set.sensors.forearm.dropFor(8000);
      await waitForSwing(set.page, 4);
      await sleep(3);
      const records = await endAndReadSet(set.page);
      for (const segment of SEGMENTS) {
        const found = compareWithMade(records, segment, set.sensors[segment]);
        // at least 18 s of 20 packets of 10 samples, the rate up to 2 % off
        expect(found.packets).toBeGreaterThan(18 * 20 * 0.97);
        expect(found).toMatchObject({ repeated: 0, different: 0 });
        // The newest may have been asked for again when the set ended.
        expect(found.missing).toBeLessThanOrEqual(3);
      }
      const lost = records.filter((r) => r.kind === 'event' && r.event.type === 'packets-lost');
      expect(lost).toEqual([]);
    });
  });
});
