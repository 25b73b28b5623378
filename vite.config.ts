import { createHash } from 'node:crypto';
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import preact from '@preact/preset-vite';
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

const repository = fileURLToPath(new URL('.', import.meta.url));
const reportFile = process.env.TEST_REPORT;

export default defineConfig({
  // Vitest would look for tests below the app's root.
  root: process.env.VITEST ? repository : fileURLToPath(new URL('src/screens', import.meta.url)),
  plugins: [preact()],
  define: {
    __PROGRAM_VERSION__: JSON.stringify(packageJson.version),
    __CORE_BUILD__: JSON.stringify(coreBuild()),
  },
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
