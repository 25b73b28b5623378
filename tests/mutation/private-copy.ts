import { cpSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, symlinkSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, relative, sep } from 'node:path';
import type { SourceFile } from './sample-mutants.ts';

const NOT_COPIED = ['node_modules', '.git', 'dist', 'coverage'];

/**
 * A copy of the repository in a temporary folder, packages linked one by one so that caches beside them stay private.
 * Mutants go into the copy: nobody who works on the original ever sees one.
 * @returns its path; the caller removes it
 */
export function copyRepository(root: string): string {
  const copy = mkdtempSync(join(tmpdir(), 'reach-funnel-mutants-'));
  cpSync(root, copy, {
    recursive: true,
    filter: (source) => !NOT_COPIED.includes(relative(root, source).split(sep)[0] ?? ''),
  });
  mkdirSync(join(copy, 'node_modules'));
  for (const name of readdirSync(join(root, 'node_modules'))) {
    if (name.startsWith('.vite')) continue;
    symlinkSync(join(root, 'node_modules', name), join(copy, 'node_modules', name));
  }
  return copy;
}

/** All TypeScript files below a folder, sorted by path. */
export function sourceFiles(root: string, folder: string): SourceFile[] {
  return readdirSync(join(root, folder), { recursive: true, encoding: 'utf8' })
    .map((name) => `${folder}/${name.split(sep).join('/')}`)
    .filter((path) => path.endsWith('.ts'))
    .sort()
    .map((path) => ({ path, text: readFileSync(join(root, path), 'utf8') }));
}
