import type { PlannedSet } from '../core/plan/planned-set.ts';
import type { CalibratedSensor } from '../core/recording/set-description.ts';
import { createSensorPlaces } from '../devices/sensor-places.ts';
import { fourBlocks, type SimulatedPlayer, sessionOptions } from '../devices/simulated-player.ts';
import { createSimulatedTransport } from '../devices/simulated-transport.ts';
import { createWebBluetoothTransport } from '../devices/web-bluetooth-transport.ts';
import { createCourtModel } from './court/court-model.ts';
import { describeSet, type SetHead } from './describe-set.ts';
import type { PlayerRow } from './library-model.ts';
import { goTo } from './route.ts';
import { runningSet } from './running-set.ts';
import type { WorkerClient } from './worker-client.ts';

/** The next player of a group has the same sensors in the same places. */
const sensorPlaces = createSensorPlaces(() => localStorage);

/**
 * Begins a set with real sensors and goes to its court. No other set may be running.
 * @param planned with cautions confirmed for this very set
 * @param calibrations of the bench, latest first
 * @throws RangeError for a player without consent
 */
export function beginSensorSet(
  client: WorkerClient,
  player: PlayerRow,
  planned: PlannedSet,
  calibrations: readonly CalibratedSensor[],
): void {
  const description = describeSet(player, planned, newHead(), calibrations);
  const transport = createWebBluetoothTransport(navigator.bluetooth, sensorPlaces);
  runningSet.value = createCourtModel({ description, transport, client });
  goTo({ screen: 'court' });
}

/** What the coach chooses for the simulated player. */
export interface SimulatedChoice extends SimulatedPlayer {
  readonly blocks: 'one' | 'four';
  /** Simulated seconds per second. */
  readonly speed: '1' | '4' | '20';
}

/** Begins a set of the simulated player and goes to its court. No other set may be running. */
export function beginSimulatedSet(client: WorkerClient, choice: SimulatedChoice): void {
  const { speed, blocks, ...player } = choice;
  const seed = crypto.getRandomValues(new Uint32Array(1))[0] ?? 1;
  const transport = createSimulatedTransport({
    options: blocks === 'one' ? sessionOptions(player, seed) : fourBlocks(player, seed),
    speed: Number(speed),
    head: newHead(),
  });
  const { description, landings$, hear } = transport;
  runningSet.value = createCourtModel({ description, transport, client, landings$, hear });
  goTo({ screen: 'court' });
}

/** Head of a set that begins now. */
function newHead(): SetHead {
  return {
    setId: crypto.randomUUID(),
    startedAtMs: Date.now(),
    programVersion: __PROGRAM_VERSION__,
  };
}
