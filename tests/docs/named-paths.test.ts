import { existsSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { expect, it } from 'vitest';

const root = fileURLToPath(new URL('../../', import.meta.url));

/** Paths in backticks or links that begin with a folder or file of the repository. */
function namedPaths(document: string): string[] {
  const text = readFileSync(root + document, 'utf8');
  const pattern =
    /(?:`|\]\()((?:src|tests|firmware-protocol|recorded-streams)(?:\/[\w./-]*)?)(?:`|\))/g;
  return [...text.matchAll(pattern)].map((match) => match[1]!);
}

it.each(['README.md', 'DEVELOPERS.md'])('every path that %s names exists', (document) => {
  const paths = namedPaths(document);
  expect(paths.length).toBeGreaterThan(2);
  expect(paths.filter((path) => !existsSync(root + path))).toEqual([]);
});

it.each(['README.md', 'DEVELOPERS.md'])('every npm script that %s names exists', (document) => {
  const { scripts } = JSON.parse(readFileSync(`${root}package.json`, 'utf8')) as {
    scripts: Record<string, string>;
  };
  const names = [...readFileSync(root + document, 'utf8').matchAll(/npm run ([\w:-]+)/g)];
  expect(names.length).toBeGreaterThan(2);
  expect(names.map((match) => match[1]!).filter((name) => !(name in scripts))).toEqual([]);
});
