// Runs a command as the app is compiled: node tests/run-built.mjs FILE.ts [arguments]. Running from the sources, tsx
// names every inner function anew at each call, which costs the pipeline half as much again.
import { mkdtempSync, rmSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { pathToFileURL } from 'node:url';
import { build } from 'vite';

const [entry, ...rest] = process.argv.slice(2);
// Inside the repository, so that packages are found.
const outDir = mkdtempSync(join('node_modules', '.built-'));
process.on('exit', () => rmSync(outDir, { recursive: true, force: true }));
await build({
  configFile: false,
  logLevel: 'error',
  build: {
    ssr: resolve(entry),
    outDir,
    target: 'es2022',
    minify: true,
    rolldownOptions: { output: { entryFileNames: 'command.mjs' } },
  },
});
process.argv = [process.argv[0], resolve(entry), ...rest];
await import(pathToFileURL(resolve(outDir, 'command.mjs')).href);
