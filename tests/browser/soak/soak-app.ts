import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { Plugin } from 'vite';
import { type ServedApp, serveApp } from '../serve-app.ts';

const repository = fileURLToPath(new URL('../../..', import.meta.url));
const here = (name: string) => fileURLToPath(new URL(name, import.meta.url));

/** The app's modules that make up the simulated air, by who imports them, and what takes their place. */
const SWAPPED = [
  {
    importer: 'src/screens/begin-set.ts',
    source: '../devices/simulated-transport.ts',
    by: here('soak-transport.ts'),
  },
  {
    importer: 'src/devices/simulated-transport.ts',
    source: './simulated-port.ts',
    by: here('dropping-port.ts'),
  },
];

/** Everything from the links on is the app as it is; a changed import that is not found any more stops the build. */
function soakAir(): Plugin {
  const found = new Set<string>();
  return {
    name: 'soak-air',
    enforce: 'pre',
    resolveId(source, importer) {
      const swap = SWAPPED.find(
        (one) => one.source === source && importer === join(repository, one.importer),
      );
      if (swap === undefined) return null;
      found.add(swap.by);
      return swap.by;
    },
    buildEnd() {
      const missing = SWAPPED.find(({ by }) => !found.has(by));
      if (missing !== undefined) {
        throw new Error(`${missing.importer} imports no ${missing.source}: adapt ${here('')}`);
      }
    },
  };
}

/** Builds the app with an air that the soak commands, and serves it. */
export function serveSoakApp(): Promise<ServedApp> {
  return serveApp([soakAir()]);
}
