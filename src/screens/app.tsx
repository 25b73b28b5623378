import { useMemo } from 'preact/hooks';
import { CourtScreen } from './court/CourtScreen.tsx';
import { ImportScreen } from './import/ImportScreen.tsx';
import { ReplayScreen } from './replay/ReplayScreen.tsx';
import { hashOf, route } from './route.ts';
import { runningSet } from './running-set.ts';
import { SetScreen } from './set/SetScreen.tsx';
import { StartScreen } from './start/StartScreen.tsx';
import { StorageScreen } from './storage/StorageScreen.tsx';
import { startWorkerClient } from './worker-client.ts';

/** Chooses the screen the address names. */
export function App() {
  const client = useMemo(startWorkerClient, []);
  const at = route.value;
  if (at.screen === 'set') return <SetScreen key={at.setId} client={client} setId={at.setId} />;
  if (at.screen === 'replay') {
    return <ReplayScreen key={at.setId} client={client} setId={at.setId} />;
  }
  if (at.screen === 'start') return <StartScreen client={client} />;
  if (at.screen === 'storage') return <StorageScreen client={client} />;
  if (at.screen === 'import') return <ImportScreen client={client} />;
  const model = runningSet.value;
  if (model !== null) return <CourtScreen model={model} />;
  return (
    <main class="page">
      <h1>No set is running</h1>
      <p>
        A set ends when its page is reloaded. What was recorded is in the list on the Start screen.
      </p>
      <a class="button primary" href={hashOf({ screen: 'start' })}>
        To the Start screen
      </a>
    </main>
  );
}
