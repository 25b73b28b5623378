/**
 * Puts small wrong changes into src/core, one at a time in a private copy, and says which of them no test notices.
 *   npm run mutate -- [seed = 1] [count = 20] [numbers of the sample to run, for instance 3,17]
 * First every mutant against the tests of its folder, a minute each at most; then those left against every test that
 * imports their file, some minutes each.
 */
import { rmSync } from 'node:fs';
import { setPriority } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { type Fate, Judge } from './judge-mutant.ts';
import { copyRepository, sourceFiles } from './private-copy.ts';
import { type FileMutant, sampleMutants } from './sample-mutants.ts';

const root = fileURLToPath(new URL('../../', import.meta.url));
const [seed, count] = [Number(process.argv[2] ?? 1), Number(process.argv[3] ?? 20)];
const chosen = process.argv[4]?.split(',').map(Number);
if (![seed, count, ...(chosen ?? [])].every(Number.isInteger)) {
  throw new RangeError('Seed, count and the numbers to run are whole numbers.');
}

interface Numbered {
  readonly mutant: FileMutant;
  /** Place in the sample, from 1. */
  readonly number: number;
}

/** Whatever is on the machine beside this goes first. */
setPriority(10);
const copy = copyRepository(root);
process.once('exit', () => rmSync(copy, { recursive: true, force: true }));
// A signal may come twice, from whoever started this and from tsx.
process.on('SIGINT', () => process.exit(130)).on('SIGTERM', () => process.exit(143));

const files = sourceFiles(copy, 'src/core');
const texts = new Map(files.map(({ path, text }) => [path, text]));
const sample = sampleMutants(files, seed, count)
  .map((mutant, index) => ({ mutant, number: index + 1 }))
  .filter(({ number }) => chosen?.includes(number) ?? true);
// Open recordings lie beside the repository, not beside the copy.
const data = process.env.REACH_FUNNEL_DATA ?? join(root, '../shared/data');
const judge = new Judge(copy, { REACH_FUNNEL_DATA: data });
const fates = new Map<Numbered, Fate>();
for (const one of sample) {
  const fate = await judge.nearby(one.mutant, texts.get(one.mutant.path)!);
  fates.set(one, fate);
  console.log(row(one, fate, 'lives in its folder'));
}
// These take long, so they come last.
for (const one of sample.filter((one) => fates.get(one)!.kind === 'survived')) {
  const fate = await judge.fromAfar(one.mutant, texts.get(one.mutant.path)!);
  fates.set(one, fate);
  console.log(row(one, fate, 'SURVIVED'));
}
console.log(totals([...fates.values()]));

function row({ number, mutant }: Numbered, fate: Fate, alive: string): string {
  const { path, line, change } = mutant;
  const end = {
    killed: fate.kind === 'killed' ? `killed by ${fate.by}` : '',
    'out-of-time': 'killed by the time limit',
    survived: alive,
  }[fate.kind];
  return `${String(number).padStart(3)}  ${path}:${line}\n     ${change}\n     ${end}`;
}

function totals(fates: readonly Fate[]): string {
  const number = (kind: Fate['kind']) => fates.filter((fate) => fate.kind === kind).length;
  const [killed, late, alive] = [number('killed'), number('out-of-time'), number('survived')];
  return `\nSeed ${seed}: ${fates.length} mutants, ${killed} killed by a test, ${late} by the time limit, ${alive} SURVIVED`;
}
