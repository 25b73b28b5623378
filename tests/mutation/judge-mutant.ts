import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { withMutant } from './mutants-in.ts';
import { runTests, type TestOutcome } from './run-tests.ts';
import type { FileMutant } from './sample-mutants.ts';
import { type Importers, importersIn, testsImporting } from './tests-importing.ts';

/** How a mutant ended: by the test that failed, by running for too long, or not at all. */
export type Fate =
  | { readonly kind: 'killed'; readonly by: string }
  | { readonly kind: 'out-of-time' }
  | { readonly kind: 'survived' };

/** More than one test file, and the whole unit project, need on two busy cores. */
const FILE_LIMIT_S = 600;
const MANY_LIMIT_S = 3600;

/** They simulate hundreds of sets, and are asked last. */
const LONG = /(operating|coverage|thousand-swings)\.test\.ts$/;

/**
 * Judges mutants one after the other in a copy of the repository, by the tests that import their file. A failure
 * counts only when the same tests pass without the mutant; test files that fail anyhow are left out from then on.
 */
export class Judge {
  readonly #root: string;
  readonly #environment: Readonly<Record<string, string>>;
  readonly #importers: Importers;
  readonly #broken = new Set<string>();
  readonly #sound = new Set<string>();

  constructor(root: string, environment: Readonly<Record<string, string>>) {
    this.#root = root;
    this.#environment = environment;
    this.#importers = importersIn(root, ['src', 'tests']);
  }

  /** By the test file of the same name, then by the others of the folder, the long ones left out. */
  async nearby(mutant: FileMutant, text: string): Promise<Fate> {
    const near = this.#tests(mutant).filter(isNear(mutant));
    const own = near.filter((file) => file === ownTest(mutant));
    const fate = await this.#judge(mutant, text, own);
    if (fate.kind !== 'survived') return fate;
    return this.#judge(
      mutant,
      text,
      near.filter((file) => !own.includes(file)),
    );
  }

  /** By all other tests. @param text of the mutant's file without it */
  async fromAfar(mutant: FileMutant, text: string): Promise<Fate> {
    const isNearby = isNear(mutant);
    const far = this.#tests(mutant).filter((file) => !isNearby(file));
    return this.#judge(mutant, text, far);
  }

  #tests({ path }: FileMutant): string[] {
    return testsImporting(this.#importers, path);
  }

  async #judge(mutant: FileMutant, text: string, tests: readonly string[]): Promise<Fate> {
    const asked = tests.filter((file) => !this.#broken.has(file));
    if (asked.length === 0) return { kind: 'survived' };
    const path = join(this.#root, mutant.path);
    writeFileSync(path, withMutant(text, mutant));
    const outcome = await this.#run(asked);
    writeFileSync(path, text);
    if (outcome.kind === 'passed') return { kind: 'survived' };
    const guilty = outcome.kind === 'failed' ? [outcome.file] : asked;
    if (!(await this.#passWithout(guilty))) return this.#judge(mutant, text, asked);
    if (outcome.kind === 'out-of-time' || outcome.isLate) return { kind: 'out-of-time' };
    return { kind: 'killed', by: `${outcome.file}: ${outcome.test || 'does not load'}` };
  }

  /** Notes those that fail without any mutant. @throws Error when they take too long even so */
  async #passWithout(files: readonly string[]): Promise<boolean> {
    if (files.every((file) => this.#sound.has(file))) return true;
    const outcome = await this.#run(files);
    if (outcome.kind === 'out-of-time') {
      throw new Error(`Too slow even without a mutant: ${files.join(' ')}`);
    }
    if (outcome.kind === 'failed') this.#broken.add(outcome.file);
    else for (const file of files) this.#sound.add(file);
    return outcome.kind === 'passed';
  }

  #run(files: readonly string[]): Promise<TestOutcome> {
    const limitS = files.length === 1 ? FILE_LIMIT_S : MANY_LIMIT_S;
    return runTests(this.#root, files, limitS, this.#environment);
  }
}

function isNear(mutant: FileMutant): (file: string) => boolean {
  const own = ownTest(mutant);
  const folder = own.slice(0, own.lastIndexOf('/') + 1);
  return (file) => file.startsWith(folder) && !LONG.test(file);
}

function ownTest({ path }: FileMutant): string {
  return path.replace(/^src\/core\//, 'tests/').replace(/\.ts$/, '.test.ts');
}
