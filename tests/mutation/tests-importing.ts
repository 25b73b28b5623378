import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join, posix, sep } from 'node:path';
import ts from 'typescript';

/** Parents of each file: those that import it. Paths from the repository's root. */
export type Importers = ReadonlyMap<string, ReadonlySet<string>>;

/** Who imports whom below these folders; imports name their file with its ending, and packages do not count. */
export function importersIn(root: string, folders: readonly string[]): Importers {
  const importers = new Map<string, Set<string>>();
  for (const path of folders.flatMap((folder) => filesBelow(root, folder))) {
    const { importedFiles } = ts.preProcessFile(readFileSync(join(root, path), 'utf8'));
    for (const { fileName } of importedFiles) {
      const target = posix.join(posix.dirname(path), fileName);
      if (!fileName.startsWith('.') || !existsSync(join(root, target))) continue;
      importers.set(target, (importers.get(target) ?? new Set()).add(path));
    }
  }
  return importers;
}

/**
 * Test files of the unit project that import a file, by any way, sorted.
 * Vitest's own "related" would do the same, but its `--exclude` does not reach projects.
 */
export function testsImporting(importers: Importers, path: string): string[] {
  const seen = new Set([path]);
  for (const file of seen) for (const importer of importers.get(file) ?? []) seen.add(importer);
  return [...seen]
    .filter((file) => file.endsWith('.test.ts') && !file.startsWith('tests/browser/'))
    .sort();
}

function filesBelow(root: string, folder: string): string[] {
  return readdirSync(join(root, folder), { recursive: true, encoding: 'utf8' })
    .map((name) => `${folder}/${name.split(sep).join('/')}`)
    .filter((path) => /\.tsx?$/.test(path));
}
