import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { gzipSync } from 'node:zlib';
import { afterAll, describe, expect, it } from 'vitest';
import { analyseCommand } from '../../src/batch/analyse-command.ts';
import type { LiveView } from '../../src/core/pipeline/outputs.ts';
import { createPipeline, stepPipeline } from '../../src/core/pipeline/pipeline.ts';
import { reviewPipeline } from '../../src/core/pipeline/review.ts';
import { atFileTime } from '../../src/core/recording/set-file-format.ts';
import type { SetRecord } from '../../src/core/recording/set-record.ts';
import { DEFAULT_ERRORS } from '../../src/core/simulator/sensor-errors.ts';
import { simulateSession } from '../../src/core/simulator/simulate-session.ts';
import { setText } from '../../src/reports/set-text.ts';
import { setFile } from '../recording/sample-set.ts';

const folder = mkdtempSync(join(tmpdir(), 'analyse-'));
afterAll(() => rmSync(folder, { recursive: true }));

const repository = fileURLToPath(new URL('../..', import.meta.url));

/** As npm runs it. */
function run(...args: string[]) {
  const command = ['--import', 'tsx', 'src/batch/analyse.ts', ...args];
  return spawnSync(process.execPath, command, { cwd: repository, encoding: 'utf8' });
}

/** The same without a process of its own. */
async function asked(...args: string[]) {
  const said = { stdout: '', stderr: '' };
  const status = await analyseCommand(args, {
    out: (text) => {
      said.stdout += text;
    },
    error: (line) => {
      said.stderr += `${line}\n`;
    },
  });
  return { ...said, status };
}

function saved(name: string, bytes: Uint8Array | string): string {
  const path = join(folder, name);
  writeFileSync(path, bytes);
  return path;
}

const session = simulateSession(
  {
    seed: 7,
    strategy: 'distal',
    implement: 'short',
    ball: 'training',
    handedness: 'right',
    swings: 3,
    swingIntervalS: 4,
    nominalRateHz: 200,
    errors: DEFAULT_ERRORS,
  },
  { setId: 'simulated-7', startedAtMs: 0, programVersion: '0.1.0' },
);
const records: SetRecord[] = [];
for (const step of session.steps) {
  if (step.kind === 'record') records.push(atFileTime(step.record));
}

/** The state after the same records without any file between. */
function review() {
  const state = createPipeline(session.description);
  for (const record of records) stepPipeline(state, record);
  return reviewPipeline(state);
}

describe('analyse', { timeout: 60_000 }, () => {
  const file = setFile(records, session.description);

  it('prints from a file what the pipeline gives in review, to the last digit', () => {
    const { stdout, stderr, status } = run(saved('a.mcap', file));
    expect([status, stderr]).toEqual([0, '']);
    expect(stdout).toBe(setText(review(), session.description));
  });

  it('gives JSON with the same bits, from a gzipped file too', async () => {
    const { stdout, status } = await asked(saved('a.mcap.gz', gzipSync(file)), '--json');
    expect(status).toBe(0);
    const { view, description } = JSON.parse(stdout);
    expect(description).toEqual(session.description);
    const live = review();
    const numbers = ({ swings, funnel }: LiveView) => [
      ...swings.flatMap(({ swing }) => [swing.contactTimeUs, swing.reachM]),
      ...funnel.spreadM,
    ];
    view.funnel.spreadM = view.funnel.spreadM.map((m: number | null) => m ?? Number.NaN);
    expect(numbers(view)).toEqual(numbers(live));
    expect(view.isReview).toBe(true);
    expect(live.swings.length).toBeGreaterThan(0);
  });

  it('reads a cut file and says so', async () => {
    const { stdout, stderr, status } = await asked(saved('cut.mcap', file.subarray(0, -1000)));
    expect(status).toBe(0);
    expect(stderr).toContain('cut off');
    expect(stdout).toContain('Set simulated-7');
  });

  it('ends with the code of what went wrong', () => {
    expect(run(join(folder, 'nowhere.mcap')).status).toBe(1);
    expect(run('--fast').status).toBe(2);
  });

  it.each([
    ['no file', [], 'No file was given'],
    ['an unknown option', ['--fast', 'x.mcap'], '--fast'],
    ['two files', ['a', 'b'], 'One file at a time'],
    ['a table without mapping', ['a.csv'], '--mapping'],
  ])('exits with 2 and the usage for %s', async (_, args, words) => {
    const { stdout, stderr, status } = await asked(...args);
    expect([status, stdout]).toEqual([2, '']);
    expect(stderr).toContain(words);
    expect(stderr).toContain('Usage:');
  });

  const mapping = join(repository, 'tests/recording/qmt-right-arm.mapping.json');
  it.each([
    ['a missing file', () => [join(folder, 'nowhere.mcap')], 'cannot be read'],
    ['another kind of file', () => [saved('b.mcap', 'hello')], 'not a set file'],
    ['a broken gzip', () => [saved('c.mcap.gz', 'hello')], 'cannot be read'],
    [
      'a table without the columns',
      () => [saved('d.csv', 't,a\n0,1\n'), '--mapping', mapping],
      "no column 'upper_arm_right_gyr_x'",
    ],
    [
      'a mapping that is not JSON',
      () => [saved('d.csv', 't\n'), '--mapping', saved('m.json', '{')],
      'not JSON',
    ],
    [
      'a mapping that lacks sensors',
      () => [saved('d.csv', 't\n'), '--mapping', saved('n.json', '{}')],
      'sensors must be',
    ],
  ])('exits with 1 and a message for %s', async (_, args, words) => {
    const { stdout, stderr, status } = await asked(...args());
    expect([status, stdout]).toEqual([1, '']);
    expect(stderr).toContain(words);
    expect(stderr).not.toContain('    at ');
  });
});
