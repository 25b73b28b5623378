import { useEffect, useMemo, useState } from 'preact/hooks';
import { findSupportGaps, readBrowserFacts } from '../../devices/browser-support.ts';
import { beginSimulatedSet } from '../begin-set.ts';
import { goTo, hashOf } from '../route.ts';
import { runningSet } from '../running-set.ts';
import type { WorkerClient } from '../worker-client.ts';
import { InventedPlayers } from './InventedPlayers.tsx';
import { createInventedModel } from './invented-model.ts';
import { SavedLine } from './SavedLine.tsx';
import { SetList } from './SetList.tsx';
import { SimulatedForm } from './SimulatedForm.tsx';
import { createStartModel } from './start-model.ts';
import '../controls/fields.css';
import './start.css';

/** The first screen: a new set, the simulated player, players to look around with, and the sets so far. */
export function StartScreen({ client }: { readonly client: WorkerClient }) {
  const model = useMemo(() => createStartModel(client), [client]);
  useEffect(() => model.dispose, [model]);
  const invented = useMemo(
    () => createInventedModel(client, model.sets, (address, how) => fetch(address, how)),
    [client, model],
  );
  useEffect(() => invented.dispose, [invented]);
  const gaps = useMemo(() => findSupportGaps(readBrowserFacts()), []);
  const [isSimulatedOpen, setSimulatedOpen] = useState(false);
  const nothingWorks = gaps.some((gap) => gap.stops === 'everything');
  const trouble = model.trouble.value;

  return (
    <main class="page start">
      <header class="start-head">
        <h1>Reach Funnel</h1>
        <p class="soft">
          Does the player meet the ball at the same distance each time, and how does the arm get
          there?
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
      <SavedLine sets={model.sets.value} />
      {runningSet.value !== null && (
        <a class="button primary" href={hashOf({ screen: 'court' })}>
          Back to the running set
        </a>
      )}
      <div class="start-main">
        <div class="start-begin">
          <button
            type="button"
            class="start-choice start-new"
            disabled={gaps.length > 0 || runningSet.value !== null}
            onClick={() => goTo({ screen: 'player' })}
          >
            <b>New set</b>
            <span>three Bluetooth sensors</span>
          </button>
          <button
            type="button"
            class="start-choice"
            disabled={nothingWorks || runningSet.value !== null}
            aria-expanded={isSimulatedOpen}
            onClick={() => setSimulatedOpen(!isSimulatedOpen)}
          >
            <b>Simulated player</b>
            <span>no sensors needed</span>
          </button>
          {isSimulatedOpen && (
            <SimulatedForm onStart={(choice) => beginSimulatedSet(client, choice)} />
          )}
          {!nothingWorks && (
            <InventedPlayers model={invented} isDisabled={runningSet.value !== null} />
          )}
          <p class="start-caution">
            Made-up names only. Everything stays on this device. Not a medical device.
          </p>
        </div>
        {!nothingWorks && <SetList model={model} />}
      </div>
    </main>
  );
}
