import { createHash } from 'node:crypto';
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import preact from '@preact/preset-vite';
import { VitePWA } from 'vite-plugin-pwa';
import { defineConfig } from 'vitest/config';
import packageJson from './package.json' with { type: 'json' };

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

/** Installable, and a service worker of our own with the list of all files in it; none while developing. */
const offline = VitePWA({
  strategies: 'injectManifest',
  srcDir: 'offline/service-worker',
  filename: 'service-worker.ts',
  injectRegister: false,
  // The plugin adds the manifest and its icons itself.
  injectManifest: { globPatterns: ['**/*.{html,js,css,svg}'] },
  manifest: {
    name: 'Reach Funnel',
    short_name: 'Reach Funnel',
    description: packageJson.description,
    lang: 'en',
    display: 'standalone',
    orientation: 'any',
    start_url: './',
    scope: './',
    id: './',
    theme_color: '#f4f6f1',
    background_color: '#f4f6f1',
    icons: [
      { src: 'icon-192.png', sizes: '192x192', type: 'image/png' },
      { src: 'icon-512.png', sizes: '512x512', type: 'image/png' },
      { src: 'icon-maskable-512.png', sizes: '512x512', type: 'image/png', purpose: 'maskable' },
    ],
  },
});

const repository = fileURLToPath(new URL('.', import.meta.url));
const reportFile = process.env.TEST_REPORT;

/** In real time over the emulated radio, or at the pace of a player: mostly waiting, so beside the others. */
const REAL_TIME_TESTS = ['radio*', 'crash', 'whole-path'].map(
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
  root: process.env.VITEST ? repository : fileURLToPath(new URL('src/screens', import.meta.url)),
  // Every address is relative, so that the app works below any path.
  base: './',
  plugins: [preact(), offline],
  define: {
    __PROGRAM_VERSION__: JSON.stringify(packageJson.version),
    __CORE_BUILD__: JSON.stringify(coreBuild()),
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
    coverage: { provider: 'v8', include: ['src/**/*.{ts,tsx}'] },
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
