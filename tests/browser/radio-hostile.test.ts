import { describe, expect, it } from 'vitest';
import { compareWithMade, inOrderMade } from './ble/completeness.ts';
import type { EmulatedSensor, SensorTraits } from './ble/emulated-sensor.ts';
import {
  backwards,
  badAfter,
  repeatedAndReordered,
  tenTimesTheRate,
  withField,
} from './ble/hostile-firmware.ts';
import {
  beginSet,
  connectSensor,
  endAndSaveSet,
  type RadioSet,
  untilHandedOver,
} from './ble/radio-set.ts';
import { hasRadio, withRadio } from './ble/with-radio.ts';

/** Five minutes: the sensors must not run dry however slow the machine is. */
const SWINGS = 60;
const timeout = 240_000;
const UNREADABLE = 'The forearm sensor sends data this program cannot read: ';

/** What is wrong with a sensor, and how the screen names it. */
const HOSTILE: readonly (readonly [traits: SensorTraits, words: string | RegExp])[] = [
  [
    { serviceUuid: 'a7e1c2a4-54c8-4f0b-9d43-2c8a35c1f6d2' },
    'What was chosen for the forearm is not a Reach Funnel sensor. Choose another one.',
  ],
  [
    { spoilInfo: (info) => info.with(0, 2) },
    'The forearm sensor: The sensor speaks protocol version 2; this program speaks version 1.',
  ],
  [
    { spoilInfo: (info) => info.slice(0, 30) },
    'The forearm sensor: The sensor information has 30 bytes instead of ',
  ],
  [
    { spoilInfo: (info) => info.with(20, info[20]! ^ 1) },
    'The forearm sensor: The sensor information was damaged (checksum).',
  ],
  [
    { spoil: (bytes) => [withField(bytes, 'version', 2)] },
    `${UNREADABLE}The sensor sends stream version 2; this program reads version 1.`,
  ],
  [
    { spoil: (bytes) => [bytes.with(20, bytes[20]! ^ 1)] },
    `${UNREADABLE}A packet was damaged on its way (checksum).`,
  ],
  [
    { spoil: (bytes) => [withField(bytes, 'count', 0)] },
    `${UNREADABLE}A packet claims 0 samples; 1 to 40 are allowed.`,
  ],
  [
    { spoil: (bytes) => [withField(bytes, 'count', 200)] },
    `${UNREADABLE}A packet claims 200 samples; 1 to 40 are allowed.`,
  ],
  [tenTimesTheRate(), /cannot read: the sensor sends 20\d\d samples per second instead of 200\./],
  [
    { spoil: (bytes) => Array<Uint8Array>(60).fill(bytes) },
    'The forearm sensor floods the link with data and was let go. Check its firmware.',
  ],
];

/** Two good sensors stream from here on; the forearm's place is free. */
async function beginWithTwo(set: RadioSet): Promise<void> {
  await beginSet(set);
  await connectSensor(set, 'upperArm');
  await connectSensor(set, 'implement');
  set.clock.startedMs = performance.now();
}

/** Puts a sensor in the forearm's place, whatever is there. */
async function exchange(set: RadioSet, name: string): Promise<void> {
  set.choose(name);
  await cellOf(set, 'forearm').getByRole('button').click();
}

function cellOf({ page }: RadioSet, name: string) {
  return page.locator('.strip-sensors li').filter({ hasText: name });
}

async function goodOnes(set: RadioSet, names: readonly string[]): Promise<void> {
  for (const name of names) await cellOf(set, name).getByText('good, 73 %').waitFor();
}

/** The two good sensors, and what was good in the forearm's place, are in the file whole. */
async function endAndExpectWhole(
  set: RadioSet,
  forearms: readonly EmulatedSensor[],
): Promise<void> {
  await untilHandedOver(set);
  const { records } = await endAndSaveSet(set);
  const { upperArm, implement } = set.sensors;
  for (const sensor of [upperArm, implement, ...forearms]) {
    const segment =
      sensor === upperArm ? 'upperArm' : sensor === implement ? 'implement' : 'forearm';
    const { made, recorded, markedLost, different } = compareWithMade(records, segment, sensor);
    expect(made.length).toBeGreaterThan(20);
    expect(inOrderMade(recorded, made)).toEqual(made);
    expect({ markedLost, different }).toEqual({ markedLost: [], different: [] });
  }
}

describe.skipIf(!hasRadio).concurrent('a sensor that misbehaves over the emulated radio', () => {
  it('is named on the screen while the two others go on, and can be exchanged', { timeout }, () =>
    withRadio({ swings: SWINGS }, async (set) => {
      await beginWithTwo(set);
      for (const [i, [traits, words]] of HOSTILE.entries()) {
        const { name } = set.add(`Hostile ${i}`, traits);
        await exchange(set, name);
        await set.page.getByText(words).waitFor();
        await goodOnes(set, ['upper arm', 'implement']);
      }
      const muddled = set.add('Muddled', repeatedAndReordered());
      await exchange(set, muddled.name);
      await goodOnes(set, ['forearm']);
      await muddled.untilMade(60);
      await muddled.untilHandedOver();
      await exchange(set, set.sensors.forearm.name);
      await goodOnes(set, ['forearm', 'upper arm', 'implement']);
      await set.sensors.forearm.untilMade(60);
      await endAndExpectWhole(set, [muddled, set.sensors.forearm]);
    }),
  );

  it('is named as well when it was good at first', { timeout }, () =>
    withRadio({ swings: SWINGS }, async (set) => {
      await beginWithTwo(set);
      await exchange(set, set.add('Damaged later', badAfter(150)).name);
      await goodOnes(set, ['forearm']);
      await set.page
        .getByText(`${UNREADABLE}A packet was damaged on its way (checksum).`)
        .waitFor();
      await goodOnes(set, ['upper arm', 'implement']);
      await exchange(set, set.add('Backwards later', backwards(100)).name);
      await set.page.getByText(`${UNREADABLE}the sensor's clock ran backwards.`).waitFor();
      await goodOnes(set, ['upper arm', 'implement']);
      await exchange(set, set.sensors.forearm.name);
      await goodOnes(set, ['forearm']);
      await set.sensors.forearm.untilMade(60);
      await endAndExpectWhole(set, [set.sensors.forearm]);
    }),
  );
});
