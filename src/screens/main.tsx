import { render } from 'preact';
import { App } from './app.tsx';
import { createOfflineModel } from './offline/offline-model.ts';
import './theme.css';

const root = document.getElementById('app');
if (root === null) throw new Error('index.html has no element with id "app"');
// Typed as always there; missing on a page without HTTPS. While developing, nothing may come from a cache.
const container = navigator.serviceWorker as ServiceWorkerContainer | undefined;
const offline = createOfflineModel(import.meta.env.PROD ? container : undefined, () =>
  location.reload(),
);
// Fetching everything for later must not slow the first screen.
addEventListener('load', () => void offline.keepFiles(), { once: true });
render(<App offline={offline} />, root);
