import { useEffect, useMemo, useState } from 'preact/hooks';
import { findSupportGaps, readBrowserFacts } from '../../devices/browser-support.ts';
import { createSensorPlaces } from '../../devices/sensor-places.ts';
import { sessionOptions } from '../../devices/simulated-player.ts';
import { createSimulatedTransport } from '../../devices/simulated-transport.ts';
import { createWebBluetoothTransport } from '../../devices/web-bluetooth-transport.ts';
import { createCourtModel } from '../court/court-model.ts';
import { goTo, hashOf } from '../route.ts';
import { runningSet } from '../running-set.ts';
import type { WorkerClient } from '../worker-client.ts';
import { Cautions } from './Cautions.tsx';
import { SensorForm } from './SensorForm.tsx';
import { SetList } from './SetList.tsx';
import { type SimulatedChoice, SimulatedForm } from './SimulatedForm.tsx';
import { describeSensorSet, type SensorSetEntry, type SetHead } from './sensor-set.ts';
import { createStartModel } from './start-model.ts';
import './start.css';

/** The first screen: a new set, the simulated player, and the sets so far. */
export function StartScreen({ client }: { readonly client: WorkerClient }) {
  const model = useMemo(() => createStartModel(client), [client]);
  useEffect(() => model.dispose, [model]);
  const gaps = useMemo(() => findSupportGaps(readBrowserFacts()), []);
  const [open, setOpen] = useState<'none' | 'sensors' | 'simulated'>('none');
  const nothingWorks = gaps.some((gap) => gap.stops === 'everything');
  const trouble = model.trouble.value;
  const toggle = (which: 'sensors' | 'simulated') => (): void =>
    setOpen(open === which ? 'none' : which);

  return (
    <main class="page start">
      <header class="start-head">
        <h1>Reach Funnel</h1>
        <p class="soft">
          How far the arm reaches at contact, and how that spread narrows on the way there.
        </p>
      </header>
      {gaps.map((gap) => (
        <p key={gap.code} class="notice" role="alert">
          {gap.message}
        </p>
      ))}
      {trouble !== null && (
        <p class="notice" role="alert">
          {trouble}
        </p>
      )}
      {model.recovered.value !== null && (
        <p class="notice" role="status">
          {model.recovered.value}
        </p>
      )}
      {runningSet.value !== null && (
        <a class="button primary" href={hashOf({ screen: 'court' })}>
          Back to the running set
        </a>
      )}
      <div class="start-main">
        <div class="start-begin">
          <div class="start-choices">
            <button
              type="button"
              class="start-choice"
              disabled={gaps.length > 0 || runningSet.value !== null}
              aria-expanded={open === 'sensors'}
              onClick={toggle('sensors')}
            >
              <b>New set</b>
              <span>three Bluetooth sensors</span>
            </button>
            <button
              type="button"
              class="start-choice"
              disabled={nothingWorks || runningSet.value !== null}
              aria-expanded={open === 'simulated'}
              onClick={toggle('simulated')}
            >
              <b>Simulated player</b>
              <span>no sensors needed</span>
            </button>
          </div>
          {open === 'sensors' && (
            <SensorForm
              known={model.known.value}
              onStart={(entry) => beginSensorSet(client, entry)}
            />
          )}
          {open === 'simulated' && (
            <SimulatedForm onStart={(choice) => beginSimulatedSet(client, choice)} />
          )}
        </div>
        {!nothingWorks && <SetList model={model} />}
      </div>
      <Cautions />
    </main>
  );
}

function beginSimulatedSet(client: WorkerClient, choice: SimulatedChoice): void {
  const { speed, ...player } = choice;
  const transport = createSimulatedTransport({
    options: sessionOptions(player, crypto.getRandomValues(new Uint32Array(1))[0] ?? 1),
    speed: Number(speed),
    head: newHead(),
  });
  const { description, landings$ } = transport;
  runningSet.value = createCourtModel({ description, transport, client, landings$ });
  goTo({ screen: 'court' });
}

function beginSensorSet(client: WorkerClient, entry: SensorSetEntry): void {
  const description = describeSensorSet(entry, newHead());
  const transport = createWebBluetoothTransport(
    navigator.bluetooth,
    createSensorPlaces(() => localStorage),
  );
  runningSet.value = createCourtModel({ description, transport, client });
  goTo({ screen: 'court' });
}

function newHead(): SetHead {
  return {
    setId: crypto.randomUUID(),
    startedAtMs: Date.now(),
    programVersion: __PROGRAM_VERSION__,
  };
}
