import { fileURLToPath } from 'node:url';
import { expect, it } from 'vitest';
import { importersIn, testsImporting } from './tests-importing.ts';

const root = fileURLToPath(new URL('../../', import.meta.url));
const importers = importersIn(root, ['src', 'tests']);

it('testsImporting finds tests that import a file themselves and by way of others', () => {
  const tests = testsImporting(importers, 'src/core/maths/vector.ts');
  expect(tests).toContain('tests/maths/vector.test.ts');
  expect(tests).toContain('tests/pipeline/pipeline.test.ts');
});

it('testsImporting leaves out tests that have nothing to do with a file', () => {
  const tests = testsImporting(importers, 'src/core/exports/csv.ts');
  expect(tests).toContain('tests/exports/csv.test.ts');
  expect(tests).not.toContain('tests/maths/vector.test.ts');
  expect(tests.filter((path) => path.startsWith('tests/browser/'))).toEqual([]);
});
