import { useMemo } from 'preact/hooks';
import { CourtScreen } from './court/CourtScreen.tsx';
import { later } from './later.tsx';
import { OfflineLine } from './offline/OfflineLine.tsx';
import type { OfflineModel } from './offline/offline-model.ts';
import { UpdateOffer } from './offline/UpdateOffer.tsx';
import { PlanScreen } from './plan/PlanScreen.tsx';
import { PlayerScreen } from './player/PlayerScreen.tsx';
import { hashOf, route } from './route.ts';
import { runningSet } from './running-set.ts';
import { StartScreen } from './start/StartScreen.tsx';
import { StorageScreen } from './storage/StorageScreen.tsx';
import { startWorkerClient } from './worker-client.ts';

const ImportScreen = later(() => import('./import/ImportScreen.tsx').then((m) => m.ImportScreen));
const KitScreen = later(() => import('./kit/KitScreen.tsx').then((m) => m.KitScreen));
const CalibrateScreen = later(() =>
  import('./kit/CalibrateScreen.tsx').then((m) => m.CalibrateScreen),
);
const ReadingScreen = later(() =>
  import('./reading/ReadingScreen.tsx').then((m) => m.ReadingScreen),
);
const ProgressScreen = later(() =>
  import('./progress/ProgressScreen.tsx').then((m) => m.ProgressScreen),
);
const ReportScreen = later(() => import('./report/ReportScreen.tsx').then((m) => m.ReportScreen));
const SideBySideScreen = later(() =>
  import('./side-by-side/SideBySideScreen.tsx').then((m) => m.SideBySideScreen),
);
const ReplayScreen = later(() => import('./replay/ReplayScreen.tsx').then((m) => m.ReplayScreen));

/** Chooses the screen the address names. */
export function App({ offline }: { readonly offline: OfflineModel }) {
  const client = useMemo(startWorkerClient, []);
  const at = route.value;
  if (at.screen === 'set') return <ReadingScreen key={at.setId} client={client} setId={at.setId} />;
  if (at.screen === 'replay') {
    return <ReplayScreen key={at.setId} client={client} setId={at.setId} />;
  }
  if (at.screen === 'report') {
    return <ReportScreen key={at.setId} client={client} setId={at.setId} />;
  }
  if (at.screen === 'progress') {
    return <ProgressScreen key={at.player} client={client} player={at.player} />;
  }
  if (at.screen === 'side-by-side') {
    return <SideBySideScreen client={client} player={at.player} />;
  }
  if (at.screen === 'start') {
    return (
      <>
        <UpdateOffer model={offline} />
        <StartScreen client={client} />
        <OfflineLine model={offline} />
      </>
    );
  }
  if (at.screen === 'player') return <PlayerScreen client={client} />;
  if (at.screen === 'plan') return <PlanScreen client={client} />;
  if (at.screen === 'kit') return <KitScreen client={client} />;
  if (at.screen === 'calibrate') return <CalibrateScreen client={client} />;
  if (at.screen === 'storage') return <StorageScreen client={client} />;
  if (at.screen === 'import') return <ImportScreen client={client} />;
  const model = runningSet.value;
  if (model !== null)
    return <CourtScreen key={model.description.setId} model={model} client={client} />;
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
