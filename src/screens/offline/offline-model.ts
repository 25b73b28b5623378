import { type ReadonlySignal, signal } from '@preact/signals';
import type { VersionAnswer, VersionRequest } from './version-messages.ts';

/** What the app says about itself without network, and about a newer version. */
export interface OfflineModel {
  /**
   * `ready`: every file is on this device. `unknown`: not yet, or the browser has no service workers.
   * `failed`: the files could not be fetched or kept.
   */
  readonly state: ReadonlySignal<'unknown' | 'ready' | 'failed'>;
  /** A newer version is complete on this device; it is used only when `useNewVersion` is called. */
  readonly isNewVersionReady: ReadonlySignal<boolean>;
  /** Lets the browser keep all files for use without network, and look for a newer version. Once per page. */
  keepFiles(): Promise<void>;
  /** From now on pages are served the new version; loads this one again, and no other. */
  useNewVersion(): Promise<void>;
}

/**
 * @param container undefined where the browser has none, for instance on a page without HTTPS
 * @param reload loads the page again
 * Checked: tests/browser/offline.test.ts
 */
export function createOfflineModel(
  container: ServiceWorkerContainer | undefined,
  reload: () => void,
): OfflineModel {
  const state = signal<'unknown' | 'ready' | 'failed'>('unknown');
  const isNewVersionReady = signal(false);

  const ask = async (request: VersionRequest): Promise<void> => {
    const worker = (await container?.ready)?.active ?? null;
    if (worker === null) return;
    isNewVersionReady.value = (await askWorker(worker, request)).isNewVersionReady;
    state.value = 'ready';
  };
  /** A first worker that gives up leaves nothing behind that would say so later. */
  const watchFirst = ({ active, installing }: ServiceWorkerRegistration): void => {
    if (active !== null || installing === null) return;
    installing.addEventListener('statechange', () => {
      if (installing.state === 'redundant') state.value = 'failed';
    });
  };
  return {
    state,
    isNewVersionReady,
    keepFiles: async () => {
      if (container === undefined) return;
      container.addEventListener('controllerchange', () => void ask({ type: 'which-version' }));
      try {
        watchFirst(await container.register('service-worker.js'));
        await ask({ type: 'which-version' });
      } catch {
        state.value = 'failed';
      }
    },
    useNewVersion: async () => {
      await ask({ type: 'use-newest' });
      reload();
    },
  };
}

function askWorker(worker: ServiceWorker, request: VersionRequest): Promise<VersionAnswer> {
  return new Promise((resolve) => {
    const { port1, port2 } = new MessageChannel();
    port1.onmessage = (event: MessageEvent<VersionAnswer>) => {
      port1.close();
      resolve(event.data);
    };
    worker.postMessage(request, [port2]);
  });
}
