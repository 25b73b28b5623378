// Guards the guard: a compiler dependency-cruiser cannot use leaves it with no modules and no complaint.
import { spawnSync } from 'node:child_process';
import { createRequire } from 'node:module';
import { fileURLToPath } from 'node:url';

const config = fileURLToPath(new URL('../../.dependency-cruiser.cjs', import.meta.url));
const repository = fileURLToPath(new URL('../..', import.meta.url));
const cli = `${repository}node_modules/dependency-cruiser/bin/dependency-cruise.mjs`;
const canary = fileURLToPath(new URL('canary', import.meta.url));

// Far below the real count, far above what survives when TypeScript is not parsed.
const LEAST_MODULES = 40;

function cruise(cwd) {
  const args = [cli, 'src', '--config', config, '--output-type', 'json'];
  const run = spawnSync(process.execPath, args, { cwd, encoding: 'utf8', maxBuffer: 2 ** 28 });
  if (!run.stdout.startsWith('{')) throw new Error(`dependency-cruiser failed: ${run.stderr}`);
  return JSON.parse(run.stdout).summary;
}

const expected = createRequire(import.meta.url)(config).forbidden.map((rule) => rule.name);
const reported = new Set(cruise(canary).violations.map((violation) => violation.rule.name));
const silent = expected.filter((name) => !reported.has(name));
if (silent.length > 0) throw new Error(`The canary went unreported by: ${silent.join(', ')}`);

const { totalCruised, totalDependenciesCruised } = cruise(repository);
if (totalCruised < LEAST_MODULES || totalDependenciesCruised < LEAST_MODULES) {
  throw new Error(`Only ${totalCruised} modules, ${totalDependenciesCruised} imports seen in src`);
}
console.log(`canary: all ${expected.length} rules reported; src: ${totalCruised} modules seen`);
