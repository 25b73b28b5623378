import { readFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { gzipSync } from 'node:zlib';
import type { BenchRow } from './bench-row.ts';

const GOAL_KB = 200;
const PAGE = 'dist/index.html';

/**
 * Script that the built page names in its head, with all it imports at once: what the first screen runs. The whole way to
 * the first chart is measured in the browser by tests/browser/size.test.ts.
 * @throws Error when the app has not been built
 */
export function weighFirstLoad(): BenchRow {
  const page = readFileSync(PAGE, 'utf8');
  const found = new Map<string, number>();
  const add = (path: string): void => {
    if (found.has(path)) return;
    const source = readFileSync(path);
    found.set(path, gzipSync(source).length / 1000);
    for (const [, name] of source.toString().matchAll(/(?:from|import)\s*"(\.\/[^"]+\.js)"/g)) {
      add(join(dirname(path), name!));
    }
  };
  for (const [, name] of page.matchAll(/(?:src|href)="\.\/([^"]+\.js)"/g)) add(join('dist', name!));
  const kB = [...found.values()].reduce((sum, size) => sum + size, 0);
  if (kB === 0) throw new Error(`${PAGE} names no script: run npm run build first`);
  return {
    what: `first load, script of the first screen (${found.size} files), gzipped`,
    value: kB,
    unit: 'kB',
    ratio: null,
    to: '',
    goal: { text: `at most ${GOAL_KB} kB`, isMet: kB <= GOAL_KB },
  };
}
