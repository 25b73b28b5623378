import { expect, it } from 'vitest';
import { sampleMutants } from './sample-mutants.ts';

const file = (path: string, text: string) => ({ path, text });

it('sampleMutants takes files in proportion to their lines, not to their mutants', () => {
  const files = [
    file('long.ts', `${'\n'.repeat(299)}${'a + b;'.repeat(1000)}`),
    file('dense.ts', `${'\n'.repeat(99)}${'a + b;'.repeat(1000)}`),
  ];
  const sample = sampleMutants(files, 5, 800);
  const fromLong = sample.filter(({ path }) => path === 'long.ts').length;
  // Binomial(800, 3/4): 600, SD 12.2; four SD either side.
  expect(Math.abs(fromLong - 600)).toBeLessThan(49);
});

it('sampleMutants gives the same sample for a seed, and begins alike for any count', () => {
  const files = [file('a.ts', 'a + b < c && d;\n'.repeat(20)), file('b.ts', 'x = 3;\n'.repeat(20))];
  const sample = sampleMutants(files, 7, 12);
  expect(sampleMutants(files, 7, 30).slice(0, 12)).toEqual(sample);
  expect(sampleMutants(files, 8, 12)).not.toEqual(sample);
});

it('sampleMutants takes no mutant twice and stops when there are no more', () => {
  const sample = sampleMutants([file('a.ts', 'a < b'), file('empty.ts', '// 3')], 1, 10);
  expect(sample.map(({ replacement }) => replacement).sort()).toEqual(['<=', '>=']);
});
