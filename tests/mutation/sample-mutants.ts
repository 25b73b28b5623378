import { seededRandom } from '../../src/core/maths/random.ts';
import { type Mutant, mutantsIn } from './mutants-in.ts';

export interface SourceFile {
  /** From the repository's root, with forward slashes. */
  readonly path: string;
  readonly text: string;
}

export interface FileMutant extends Mutant {
  readonly path: string;
}

/**
 * A random sample of mutants without repetition: a file in proportion to its lines, in it one mutant, each as likely.
 * Files without any mutant do not count.
 * @param count at most this many; fewer when the files have fewer
 * Same files, seed and count give the same sample. Checked: tests/mutation/sample-mutants.test.ts
 */
export function sampleMutants(
  files: readonly SourceFile[],
  seed: number,
  count: number,
): FileMutant[] {
  const random = seededRandom(seed);
  const below = (limit: number) => random.uniform(0, limit);
  const open = files.map(({ path, text }) => ({
    lines: text.split('\n').length,
    mutants: mutantsIn(text).map((mutant) => ({ ...mutant, path })),
  }));
  const sample: FileMutant[] = [];
  while (sample.length < count) {
    const left = open.filter(({ mutants }) => mutants.length > 0);
    if (left.length === 0) break;
    let line = below(left.reduce((sum, { lines }) => sum + lines, 0));
    const file = left.find(({ lines }) => {
      line -= lines;
      return line < 0;
    });
    const { mutants } = file ?? left[0]!;
    sample.push(...mutants.splice(Math.floor(below(mutants.length)), 1));
  }
  return sample;
}
