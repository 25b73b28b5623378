import { fileURLToPath } from 'node:url';
import preact from '@preact/preset-vite';
import { defineConfig } from 'vitest/config';
import packageJson from './package.json' with { type: 'json' };

const repository = fileURLToPath(new URL('.', import.meta.url));
const reportFile = process.env.TEST_REPORT;

export default defineConfig({
  // Vitest would look for tests below the app's root.
  root: process.env.VITEST ? repository : fileURLToPath(new URL('src/screens', import.meta.url)),
  plugins: [preact()],
  define: { __PROGRAM_VERSION__: JSON.stringify(packageJson.version) },
  worker: { format: 'es' },
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
        },
      },
      {
        extends: true,
        test: {
          name: 'browser',
          include: ['tests/browser/**/*.test.ts'],
          fileParallelism: false,
          testTimeout: 120_000,
          hookTimeout: 120_000,
          globalSetup: [fileURLToPath(new URL('tests/browser/global-setup.ts', import.meta.url))],
        },
      },
    ],
  },
});
