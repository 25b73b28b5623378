import { spawn } from 'node:child_process';
import { existsSync, readFileSync, rmSync } from 'node:fs';
import { join, relative } from 'node:path';

export type TestOutcome =
  | { readonly kind: 'passed' }
  | {
      readonly kind: 'failed';
      /** First test file that failed, and the test in it (none when the file itself cannot be loaded). */
      readonly file: string;
      readonly test: string;
      /** It ran into a limit of its own. */
      readonly isLate: boolean;
    }
  | { readonly kind: 'out-of-time' };

interface JsonReport {
  readonly testResults: readonly {
    readonly name: string;
    readonly status: string;
    readonly assertionResults: readonly {
      readonly status: string;
      readonly fullName: string;
      readonly failureMessages: readonly string[];
    }[];
  }[];
}

/**
 * Runs tests of a copy of the repository, one file at a time, up to the first failure.
 * @param root the copy
 * @param files test files of the unit project
 * @param environment variables beside those of this process
 * @throws Error when Vitest fails without saying which test did
 */
export async function runTests(
  root: string,
  files: readonly string[],
  limitS: number,
  environment: Readonly<Record<string, string>>,
): Promise<TestOutcome> {
  const report = join(root, 'mutation-report.json');
  rmSync(report, { force: true });
  const vitest = join(root, 'node_modules/vitest/vitest.mjs');
  const choice = ['--project', 'unit', '--bail', '1', '--no-file-parallelism'];
  // A busy machine must not fail a test; what never ends meets the limit of the whole.
  choice.push('--testTimeout', String(limitS * 1000), '--hookTimeout', String(limitS * 1000));
  const child = spawn(process.execPath, [vitest, 'run', ...files, ...choice], {
    cwd: root,
    env: { ...process.env, ...environment, TEST_REPORT: report },
    stdio: 'ignore',
    // A group of its own, so that workers caught in an endless loop end with it.
    detached: true,
  });
  const stop = () => process.kill(-child.pid!, 'SIGKILL');
  // Before anything else that is done at the end, such as removing the copy.
  process.prependListener('exit', stop);
  let isOutOfTime = false;
  const timer = setTimeout(() => {
    isOutOfTime = true;
    stop();
  }, limitS * 1000);
  const code = await new Promise((resolve) => child.on('close', resolve));
  clearTimeout(timer);
  process.off('exit', stop);
  if (isOutOfTime) return { kind: 'out-of-time' };
  return code === 0 ? { kind: 'passed' } : firstFailure(root, report);
}

function firstFailure(root: string, report: string): TestOutcome {
  const results = existsSync(report)
    ? (JSON.parse(readFileSync(report, 'utf8')) as JsonReport).testResults
    : [];
  const failed = results.find(({ status }) => status === 'failed');
  if (failed === undefined) {
    throw new Error(`Vitest failed in ${root} and named no test: run it there by hand.`);
  }
  const test = failed.assertionResults.find(({ status }) => status === 'failed');
  const isLate = test?.failureMessages.some((text) => /timed out in \d+ms/.test(text)) ?? false;
  return { kind: 'failed', file: relative(root, failed.name), test: test?.fullName ?? '', isLate };
}
