import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { build, type Plugin, preview } from 'vite';

const repository = fileURLToPath(new URL('../..', import.meta.url));
const shared = {
  root: join(repository, 'src/screens'),
  configFile: join(repository, 'vite.config.ts'),
  logLevel: 'warn',
} as const;

export interface ServedApp {
  readonly baseUrl: string;
  /** Folder with the built files. */
  readonly folder: string;
  close(): Promise<void>;
}

/** Vitest sets NODE_ENV=test, which Vite would bake into the app in place of production. */
async function buildForProduction(outDir: string, plugins: Plugin[]): Promise<void> {
  const nodeEnv = process.env.NODE_ENV;
  process.env.NODE_ENV = 'production';
  try {
    await build({ ...shared, mode: 'production', plugins, build: { outDir, emptyOutDir: true } });
  } finally {
    if (nodeEnv === undefined) delete process.env.NODE_ENV;
    else process.env.NODE_ENV = nodeEnv;
  }
}

/**
 * Builds the app outside dist, so that a running `npm start` keeps its files, and serves it.
 * @param plugins for a build that differs from the app in something
 */
export async function serveApp(plugins: Plugin[] = []): Promise<ServedApp> {
  const outDir = await mkdtemp(join(tmpdir(), 'reach-funnel-'));
  const removeBuild = () => rm(outDir, { recursive: true, force: true });
  try {
    await buildForProduction(outDir, plugins);
    const served = await serveFolder(outDir);
    return {
      ...served,
      async close() {
        await served.close();
        await removeBuild();
      },
    };
  } catch (error) {
    await removeBuild();
    throw error;
  }
}

/** Serves a built app as its files are at the moment of each request. */
export async function serveFolder(folder: string): Promise<ServedApp> {
  const server = await preview({
    ...shared,
    build: { outDir: folder },
    preview: { host: '127.0.0.1', port: 0, strictPort: true },
  });
  const baseUrl = server.resolvedUrls?.local[0];
  if (baseUrl === undefined) throw new Error('vite preview started without an address');
  return { baseUrl, folder, close: () => server.close() };
}
