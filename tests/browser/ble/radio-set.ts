import {
  type PerSegment,
  SEGMENT_WORDS,
  SEGMENTS,
  type Segment,
  segmentIndex,
} from '../../../src/core/arm/segments.ts';
import type { StoredSet } from '../../../src/core/recording/set-reader.ts';
import type { SetEvent } from '../../../src/core/recording/set-record.ts';
import { DEFAULT_ERRORS } from '../../../src/core/simulator/sensor-errors.ts';
import type { LaterBlock, SwingTruth } from '../../../src/core/simulator/session-types.ts';
import { simulateSensors } from '../../../src/core/simulator/simulate-session.ts';
import type { FirmwareHardware } from '../../../src/core/simulator/virtual-firmware.ts';
import { beginSensorSet, beginSensorSetAgain } from '../begin-sensor-set.ts';
import { saveNewestSet } from '../saved-set.ts';
import { endSet } from '../simulated-set.ts';
import { type BlePage, openBlePage } from './ble-browser.ts';
import {
  EmulatedSensor,
  type PlayerClock,
  playerNowUs,
  type SensorTraits,
} from './emulated-sensor.ts';
import { FakeBluez } from './fake-bluez.ts';
import { startPrivateBus } from './private-bus.ts';

/** The app with three emulated sensors within reach. */
export interface RadioSet extends BlePage {
  readonly sensors: PerSegment<EmulatedSensor>;
  readonly clock: PlayerClock;
  /** What the player really does, by his own clock; grows when he hears of another block. */
  readonly swings: readonly SwingTruth[];
  /** Tells the player what the coach has just tapped. The poses he begins with need not be asked for. */
  hear(event: SetEvent): void;
  /** One more sensor within reach, with a name and a serial of its own. */
  add(name: string, traits: SensorTraits): EmulatedSensor;
  stop(): Promise<void>;
}

const PLAYER_SEED = 3;
const NAMES: PerSegment<string> = {
  upperArm: 'Sensor U',
  forearm: 'Sensor F',
  implement: 'Sensor I',
};

/** What a test wants of its set; three good sensors and a minute by default. */
export interface RadioOptions {
  readonly traits?: Partial<PerSegment<SensorTraits>>;
  /** One about every five seconds from 12 s on; 3 s after the last the sensors make no more packets. */
  readonly swings?: number;
  /** Swung once the player hears that the block began, and, with another implement, that the poses are asked for. */
  readonly laterBlocks?: readonly LaterBlock[];
}

/** With the seed above: the last contact at 60.8 s. */
const SWINGS = 11;

/** Sensors of the invented player. */
function simulatedPlayer(seed: number, { swings = SWINGS, laterBlocks = [] }: RadioOptions) {
  return simulateSensors(
    {
      seed,
      strategy: 'distal',
      implement: 'short',
      ball: 'training',
      handedness: 'right',
      swings,
      laterBlocks,
      swingIntervalS: 5,
      nominalRateHz: 200,
      errors: DEFAULT_ERRORS,
    },
    { setId: 'emulated', startedAtMs: 0, programVersion: 'test' },
  );
}

/** Opens the app in a Chromium of its own, on a bus of its own, with three emulated sensors. */
export async function openRadioSet(
  chromiumPath: string,
  url: string,
  options: RadioOptions,
): Promise<RadioSet> {
  const bus = await startPrivateBus();
  const bluez = await FakeBluez.start(bus.address);
  const clock: PlayerClock = { startedMs: null };
  const all: EmulatedSensor[] = [];
  const add = (name: string, hardware: FirmwareHardware, its: SensorTraits): EmulatedSensor => {
    const address = `AA:BB:CC:00:00:${(all.length + 1).toString(16).padStart(2, '0').toUpperCase()}`;
    const sensor = new EmulatedSensor(bluez, name, address, hardware, clock, its);
    all.push(sensor);
    return sensor;
  };
  const player = simulatedPlayer(PLAYER_SEED, options);
  const sensorOn = (segment: Segment) =>
    add(NAMES[segment], player.hardware[segmentIndex(segment)]!, options.traits?.[segment] ?? {});
  const sensors = {
    upperArm: sensorOn('upperArm'),
    forearm: sensorOn('forearm'),
    implement: sensorOn('implement'),
  };
  const ble = await openBlePage(chromiumPath, bus.address, url);
  return {
    ...ble,
    sensors,
    clock,
    swings: player.swings,
    hear: (event) => player.hear(event, playerNowUs(clock)),
    add: (name, its) =>
      add(name, simulatedPlayer(PLAYER_SEED + all.length, options).hardware[1], its),
    stop: async () => {
      // The browser first: it must not see its radio vanish.
      await ble.browser.close();
      for (const sensor of all) sensor.stop();
      bluez.stop();
      await bus.stop();
    },
  };
}

/** From the Start screen to the Court screen, where the sensors are connected: by somebody who is new here. */
export async function beginSet({ page }: RadioSet): Promise<void> {
  await beginSensorSet(page);
  await page.getByRole('button', { name: 'End set' }).waitFor();
}

/** The same for a player and a plan that are known. */
export async function beginSetAgain({ page }: RadioSet): Promise<void> {
  await beginSensorSetAgain(page);
  await page.getByRole('button', { name: 'End set' }).waitFor();
}

/** Connects one sensor by tap and chooser. */
export async function connectSensor(set: RadioSet, segment: Segment): Promise<void> {
  set.choose(NAMES[segment]);
  const words = SEGMENT_WORDS[segment];
  await set.page.getByRole('button', { name: `Connect ${words}`, exact: true }).click();
  await set.page.getByRole('button', { name: `Blink ${words}` }).waitFor();
}

/** All three, then the virtual player begins with the poses. */
export async function connectAllAndZero(set: RadioSet): Promise<void> {
  for (const segment of SEGMENTS) await connectSensor(set, segment);
  await set.page.getByRole('button', { name: /Zero now/ }).click();
  set.clock.startedMs = performance.now();
}

/** Waits until the player has played for so many seconds. */
export async function untilPlayed({ clock }: RadioSet, seconds: number): Promise<void> {
  const dueMs = (clock.startedMs ?? performance.now()) + 1000 * seconds;
  await sleep((dueMs - performance.now()) / 1000);
}

/** Nothing is made any more, and nothing, or of so many of the newest packets nothing, is in the air. */
export async function untilHandedOver({ sensors }: RadioSet, newest?: number): Promise<void> {
  await Promise.all(SEGMENTS.map((segment) => sensors[segment].untilHandedOver(newest)));
}

function sleep(seconds: number): Promise<void> {
  return new Promise((resolve) => setTimeout(resolve, 1000 * seconds));
}

/** Ends the set by the app's buttons, and saves its file by the app's button. */
export async function endAndSaveSet({ page }: RadioSet): Promise<StoredSet> {
  await endSet(page);
  return saveNewestSet(page);
}
