import type { Page } from 'playwright-core';
import { SEGMENT_WORDS, SEGMENTS, type Segment } from '../../../src/core/arm/segments.ts';
import { decodeStreamPacket } from '../../../src/core/packets/stream-packet.ts';
import { readSet } from '../../../src/core/recording/set-reader.ts';
import type { SetRecord } from '../../../src/core/recording/set-record.ts';
import { DEFAULT_ERRORS } from '../../../src/core/simulator/sensor-errors.ts';
import { simulateSensors } from '../../../src/core/simulator/simulate-session.ts';
import { endSet } from '../simulated-set.ts';
import { type BlePage, openBlePage } from './ble-browser.ts';
import { EmulatedSensor, type PlayerClock, type SensorFaults } from './emulated-sensor.ts';
import { FakeBluez } from './fake-bluez.ts';
import { startPrivateBus } from './private-bus.ts';

/** The app with three emulated sensors within reach. */
export interface RadioSet extends BlePage {
  readonly sensors: Readonly<Record<Segment, EmulatedSensor>>;
  readonly clock: PlayerClock;
  stop(): Promise<void>;
}

const NAMES: Readonly<Record<Segment, string>> = {
  upperArm: 'Sensor U',
  forearm: 'Sensor F',
  implement: 'Sensor I',
};

/** Opens the app in a Chromium with three emulated sensors. */
export async function openRadioSet(
  chromiumPath: string,
  url: string,
  faults: Partial<Record<Segment, SensorFaults>>,
): Promise<RadioSet> {
  const bus = await startPrivateBus();
  const bluez = await FakeBluez.start(bus.address);
  const clock: PlayerClock = { startedMs: null };
  const session = simulateSensors(
    {
      seed: 3,
      strategy: 'distal',
      implement: 'short',
      ball: 'training',
      handedness: 'right',
      swings: 30,
      swingIntervalS: 5,
      nominalRateHz: 200,
      errors: DEFAULT_ERRORS,
    },
    { setId: 'emulated', startedAtMs: 0, programVersion: 'test' },
  );
  const [upperArm, forearm, implement] = SEGMENTS.map((segment, k) => {
    const address = `AA:BB:CC:00:00:0${k + 1}`;
    const hardware = session.hardware[k]!;
    return new EmulatedSensor(
      bluez,
      NAMES[segment],
      address,
      hardware,
      clock,
      faults[segment] ?? {},
    );
  });
  const sensors = { upperArm: upperArm!, forearm: forearm!, implement: implement! };
  const ble = await openBlePage(chromiumPath, bus.address, url);
  return {
    ...ble,
    sensors,
    clock,
    stop: async () => {
      // The browser first: it must not see its radio vanish.
      await ble.browser.close();
      for (const segment of SEGMENTS) sensors[segment].stop();
      bluez.stop();
      await bus.stop();
    },
  };
}

/** From the Start screen to the Court screen with sensors still to be connected. */
export async function beginSet({ page }: RadioSet): Promise<void> {
  await page.getByRole('button', { name: /New set/ }).click();
  await page.getByRole('button', { name: 'Go to the court' }).click();
  await page.getByText('Connect the sensors').waitFor();
}

/** Connects one sensor by tap and chooser. */
async function connectSensor(set: RadioSet, segment: Segment): Promise<void> {
  set.choose(NAMES[segment]);
  await set.page.getByRole('button', { name: `Connect ${SEGMENT_WORDS[segment]}` }).click();
}

/** All three, then the virtual player begins with the poses. */
export async function connectAllAndZero(set: RadioSet): Promise<void> {
  for (const segment of SEGMENTS) {
    await connectSensor(set, segment);
    await set.page.getByRole('button', { name: `Blink ${SEGMENT_WORDS[segment]}` }).waitFor();
  }
  await set.page.getByRole('button', { name: /Zero now/ }).click();
  set.clock.startedMs = performance.now();
}

/** Ends the set and reads its file from the browser's own storage. */
export async function endAndReadSet(page: Page): Promise<readonly SetRecord[]> {
  await endSet(page);
  const bytes = await page.evaluate(async () => {
    const root = await navigator.storage.getDirectory();
    const sets = await root.getDirectoryHandle('sets');
    for await (const handle of sets.values()) {
      if (handle.kind === 'file') {
        const file = await (handle as FileSystemFileHandle).getFile();
        return Array.from(new Uint8Array(await file.arrayBuffer()));
      }
    }
    return [];
  });
  const result = readSet(Uint8Array.from(bytes));
  if (!result.ok) throw new Error(result.error.message);
  return result.set.records;
}

/** What the file holds of one sensor against what that sensor made. */
export interface Completeness {
  readonly packets: number;
  /** Sequences between the first and the last that are not in the file. */
  readonly missing: number;
  readonly repeated: number;
  /** Packets whose samples differ from those made. */
  readonly different: number;
}

export function compareWithMade(
  records: readonly SetRecord[],
  segment: Segment,
  sensor: EmulatedSensor,
): Completeness {
  const seen = new Map<number, number>();
  let different = 0;
  let first = -1;
  let furthest = 0;
  for (const record of records) {
    if (record.kind !== 'notification' || record.segment !== segment) continue;
    const decoded = decodeStreamPacket(record.bytes);
    if (!decoded.ok) continue;
    const { sequence, samples } = decoded.packet;
    if (first < 0) first = sequence;
    furthest = Math.max(furthest, (sequence - first) & 0xffff);
    seen.set(sequence, (seen.get(sequence) ?? 0) + 1);
    const made = sensor.made.get(sequence);
    if (made === undefined || made.some((value, i) => value !== samples[i])) different++;
  }
  let missing = 0;
  for (let step = 0; step <= furthest; step++) if (!seen.has((first + step) & 0xffff)) missing++;
  const repeated = [...seen.values()].filter((times) => times > 1).length;
  return { packets: seen.size, missing, repeated, different };
}
