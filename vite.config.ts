import { createHash } from 'node:crypto';
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { Plugin } from 'vite';
import { defineConfig } from 'vitest/config';
import packageJson from './package.json' with { type: 'json' };

const repository = fileURLToPath(new URL('.', import.meta.url));
const screens = join(repository, 'src/screens');

/** Whoever changes the core changes what its states mean. */
function coreBuild(): string {
  const core = fileURLToPath(new URL('src/core', import.meta.url));
  const hash = createHash('sha256');
  const files = readdirSync(core, { recursive: true, encoding: 'utf8' }).sort();
  for (const name of files.filter((file) => file.endsWith('.ts'))) {
    hash.update(name).update(readFileSync(join(core, name)));
  }
  return hash.digest('hex').slice(0, 16);
}

/** The page's own rule of what it may load, so that the service worker can send the same with every file. */
function contentSecurityPolicy(): string {
  const html = readFileSync(join(screens, 'index.html'), 'utf8');
  const policy = /http-equiv="Content-Security-Policy"\s+content="([^"]+)"/.exec(html)?.[1];
  if (policy === undefined)
    throw new Error('src/screens/index.html has no Content-Security-Policy');
  return policy;
}

/** What the app needs without network. Not the demo sets and licence texts: nobody needs them on court. */
const KEPT_OFFLINE = /\.(html|js|css|svg|png|webmanifest)$/;

/** A service worker of our own with the list of all files in it; none while developing. */
function offline(): Plugin {
  const fileName = 'service-worker.js';
  const shared = join(screens, 'public');
  const listed = (url: string, content: string | Uint8Array) => ({
    // Names in assets change with their content.
    revision: url.startsWith('assets/') ? null : createHash('sha256').update(content).digest('hex'),
    url,
  });
  return {
    name: 'offline',
    apply: 'build',
    buildStart() {
      const id = join(screens, 'offline/service-worker/service-worker.ts');
      this.emitFile({ type: 'chunk', id, fileName });
    },
    generateBundle: {
      // After index.html is there.
      order: 'post',
      handler(_, bundle) {
        const worker = bundle[fileName];
        if (worker?.type !== 'chunk') throw new Error(`the build made no ${fileName}`);
        if (worker.imports.length > 0) throw new Error(`${fileName} must stand alone`);
        const built = Object.values(bundle).filter((file) => file !== worker);
        const files = [
          ...built.map((file) => listed(file.fileName, 'code' in file ? file.code : file.source)),
          ...readdirSync(shared).map((name) => listed(name, readFileSync(join(shared, name)))),
        ].filter(({ url }) => KEPT_OFFLINE.test(url));
        worker.code = worker.code.replace('__FILES__', () => JSON.stringify(files));
      },
    },
  };
}

/** The licences of everything that may be in the app, which ask to go with it; the worker's code has lost them. */
function licences(): Plugin {
  return {
    name: 'licences',
    apply: 'build',
    generateBundle() {
      const lock = readFileSync(join(repository, 'package-lock.json'), 'utf8');
      const { packages } = JSON.parse(lock) as { packages: Record<string, LockedPackage> };
      const packagesOf = new Map<string, string[]>();
      for (const [path, entry] of Object.entries(packages)) {
        if (path === '' || entry.dev || entry.devOptional) continue;
        const folder = join(repository, path);
        const texts = readdirSync(folder).filter((name) => /^(licen[cs]e|notice)/i.test(name));
        if (texts.length === 0) throw new Error(`${path} has no licence text`);
        const text = texts.sort().map((name) => readFileSync(join(folder, name), 'utf8').trim());
        const named = `${path.split('node_modules/').at(-1)} ${entry.version}`;
        const joined = text.join('\n\n');
        packagesOf.set(joined, [...(packagesOf.get(joined) ?? []), named]);
      }
      const sections = [...packagesOf].map(([text, names]) => `${names.join('\n')}\n\n${text}\n`);
      const source = sections.join(`\n${'-'.repeat(80)}\n\n`);
      this.emitFile({ type: 'asset', fileName: 'licences.txt', source });
    },
  };
}

interface LockedPackage {
  readonly version?: string;
  readonly dev?: boolean;
  readonly devOptional?: boolean;
}

const reportFile = process.env.TEST_REPORT;

/** In real time over the emulated radio, or at the pace of a player: mostly waiting, so beside the others. */
const REAL_TIME_TESTS = ['radio*', 'crash', 'whole-path', 'soak'].map(
  (name) => `tests/browser/${name}.test.ts`,
);
const inChromium = {
  fileParallelism: false,
  testTimeout: 120_000,
  hookTimeout: 120_000,
  globalSetup: [fileURLToPath(new URL('tests/browser/global-setup.ts', import.meta.url))],
};

export default defineConfig({
  // Vitest would look for tests below the app's root.
  root: process.env.VITEST ? repository : screens,
  // Every address is relative, so that the app works below any path.
  base: './',
  plugins: [offline(), licences()],
  define: {
    __PROGRAM_VERSION__: JSON.stringify(packageJson.version),
    __CORE_BUILD__: JSON.stringify(coreBuild()),
    __CONTENT_SECURITY_POLICY__: JSON.stringify(contentSecurityPolicy()),
  },
  worker: {
    format: 'es',
    // Hundreds of copies of one licence would make the worker twice as large.
    rolldownOptions: { output: { comments: { legal: false } } },
  },
  build: {
    outDir: fileURLToPath(new URL('dist', import.meta.url)),
    emptyOutDir: true,
    target: 'es2022',
  },
  test: {
    reporters: reportFile ? ['default', ['json', { outputFile: reportFile }]] : ['default'],
    // `npm run coverage`: core is what unit tests answer for; screens are tested in the browser.
    coverage: {
      provider: 'v8',
      include: ['src/core/**/*.ts'],
      reporter: ['text'],
      reportOnFailure: true,
      thresholds: { lines: 95 },
    },
    projects: [
      {
        extends: true,
        test: {
          name: 'unit',
          include: ['tests/**/*.test.ts'],
          exclude: ['tests/browser/**'],
          environment: 'node',
          // The other two projects mostly wait for a browser.
          maxWorkers: 2,
          // No test leaves anything behind: loading every module anew for each file cost as much as the tests.
          isolate: false,
          // No test is about time: on a busy machine the default of 5 s would make some of them so.
          testTimeout: 60_000,
        },
      },
      {
        extends: true,
        test: {
          name: 'browser',
          include: ['tests/browser/**/*.test.ts'],
          exclude: REAL_TIME_TESTS,
          ...inChromium,
        },
      },
      {
        extends: true,
        test: { name: 'real-time', include: REAL_TIME_TESTS, ...inChromium },
      },
    ],
  },
});
