// `npm test`: the projects of vite.config.ts beside each other. On two cores Vitest would run one file at a time, and
// tests in real time wait most of theirs. Arguments go to each (`npm test -- --bail 1`).
import { spawn } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { createInterface } from 'node:readline';

const PROJECTS = ['unit', 'browser', 'real-time'];
const vitest = join(
  dirname(createRequire(import.meta.url).resolve('vitest/package.json')),
  'vitest.mjs',
);
const scratch = mkdtempSync(join(tmpdir(), 'reach-funnel-tests-'));

function run(project) {
  const report = join(scratch, `${project}.json`);
  const child = spawn(
    process.execPath,
    [vitest, 'run', '--project', project, ...process.argv.slice(2)],
    { env: { ...process.env, TEST_REPORT: report }, stdio: ['ignore', 'pipe', 'pipe'] },
  );
  for (const stream of [child.stdout, child.stderr]) {
    createInterface({ input: stream }).on('line', (line) => console.log(line));
  }
  return new Promise((resolve) => {
    child.on('close', (code) => resolve({ project, code, report: readReport(report) }));
  });
}

/** Null when a run ended before it could tell. */
function readReport(path) {
  try {
    return JSON.parse(readFileSync(path, 'utf8'));
  } catch {
    return null;
  }
}

const results = await Promise.all(PROJECTS.map(run));
rmSync(scratch, { recursive: true });

const sum = (name) => results.reduce((total, { report }) => total + (report?.[name] ?? 0), 0);
const whole = {
  success: results.every(({ code, report }) => code === 0 && report?.success === true),
  numTotalTests: sum('numTotalTests'),
  numPassedTests: sum('numPassedTests'),
  numFailedTests: sum('numFailedTests'),
  testResults: results.flatMap(({ report }) => report?.testResults ?? []),
};
if (process.env.TEST_REPORT) writeFileSync(process.env.TEST_REPORT, JSON.stringify(whole));

console.log();
for (const { name, assertionResults, message, status } of whole.testResults) {
  if (status === 'failed') console.log(`failed: ${name} ${message}`);
  for (const { status: its, fullName } of assertionResults) {
    if (its === 'failed') console.log(`  ${fullName}`);
  }
}
const { numTotalTests, numPassedTests, numFailedTests } = whole;
const skipped = numTotalTests - numPassedTests - numFailedTests;
console.log(`Tests: ${numPassedTests} passed, ${numFailedTests} failed, ${skipped} skipped`);
process.exitCode = whole.success ? 0 : 1;
