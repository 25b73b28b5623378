import { spawnSync } from 'node:child_process';
import { copyFileSync, mkdirSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { BenchRow } from './bench-row.ts';
import { DEMO_FILE } from './demo-set.ts';

const SETS = 8;

/** The command itself, over copies of the demo set, on one and on two processes. @throws Error when it fails */
export function timeBatch(): BenchRow[] {
  const folder = mkdtempSync(join(tmpdir(), 'reach-funnel-batch-'));
  try {
    const input = join(folder, 'in');
    mkdirSync(input);
    for (let i = 0; i < SETS; i++) copyFileSync(DEMO_FILE, join(input, `set-${i}.mcap`));
    const [oneS, twoS] = [1, 2].map((workers) =>
      analyseS(input, join(folder, `out-${workers}`), workers),
    );
    return [row(1, oneS!, oneS!), row(2, twoS!, oneS!)];
  } finally {
    rmSync(folder, { recursive: true });
  }
}

function row(workers: number, seconds: number, oneS: number): BenchRow {
  return {
    what: `batch of ${SETS} sets of 20 swings, ${workers === 1 ? 'one process' : 'two processes'}`,
    value: SETS / seconds,
    unit: 'sets/s',
    ratio: oneS / seconds,
    to: 'one process',
    goal: null,
  };
}

function analyseS(input: string, out: string, workers: number): number {
  const began = performance.now();
  const { status, stderr } = spawnSync(
    'npm',
    ['run', '--silent', 'analyse', '--', input, '--out', out, '--workers', String(workers)],
    { encoding: 'utf8' },
  );
  if (status !== 0) throw new Error(`npm run analyse failed: ${stderr}`);
  return (performance.now() - began) / 1000;
}
