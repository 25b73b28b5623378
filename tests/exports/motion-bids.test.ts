import { describe, expect, it } from 'vitest';
import { acquisitionTime, bidsPlaces } from '../../src/core/exports/bids-names.ts';
import { motionBids, type SetToShare } from '../../src/core/exports/motion-bids.ts';
import { reviewPipeline } from '../../src/core/pipeline/review.ts';
import { simulatedSet } from '../pipeline/simulated-set.ts';
import { sampleDescription } from '../recording/sample-set.ts';
import { finishedState } from './demo-set.ts';
import { type Dataset, motionBidsFaults } from './motion-bids-rules.ts';

const ABOUT = { name: 'Swings', license: 'CC0', programVersion: 'test' };

function shared(change: Parameters<typeof simulatedSet>[0], described = {}): SetToShare {
  const { session, records } = simulatedSet(change);
  const view = reviewPipeline(finishedState({ description: session.description, records }));
  return { description: { ...session.description, ...described }, records, view };
}

function dataset(sets: readonly SetToShare[]): Dataset {
  return new Map(
    Array.from(motionBids(sets, ABOUT), ({ path, parts }) => [path, parts.join('')] as const),
  );
}

const first = shared({ swings: 2 }, { startedAtMs: Date.UTC(2026, 0, 31, 23, 59, 59, 999) });
const second = shared({ swings: 2, seed: 2 }, { startedAtMs: Date.UTC(2026, 0, 31, 9) });
const files = dataset([first, second]);
const STEM =
  'sub-PlayerAinvented/ses-20260131/motion/sub-PlayerAinvented_ses-20260131_task-striking';

describe('motionBids', () => {
  it('keeps every rule of the standard', () => {
    expect(motionBidsFaults(files)).toEqual([]);
  });

  it('has a tracking system for each sensor, and a run for each set in the order of their beginning', () => {
    const motions = [...files.keys()].filter((path) => path.endsWith('_motion.tsv')).sort();
    expect(motions).toEqual(
      ['forearm', 'implement', 'upperArm'].flatMap((system) =>
        [1, 2].map((run) => `${STEM}_tracksys-${system}_run-${run}_motion.tsv`),
      ),
    );
    const scans = files.get(
      'sub-PlayerAinvented/ses-20260131/sub-PlayerAinvented_ses-20260131_scans.tsv',
    )!;
    expect(scans).toMatch(/tracksys-forearm_run-1_motion.tsv\t2026-01-31T0[89]:/);
    expect(scans).toMatch(/tracksys-forearm_run-2_motion.tsv\t2026-0[12]-\d\dT/);
  });

  it('gives the contacts at the instants where the samples feel the shock', () => {
    const rows = files
      .get(`${STEM}_tracksys-implement_run-2_motion.tsv`)!
      .trim()
      .split('\n')
      .map((line) => line.split('\t').map(Number));
    const events = files
      .get(`${STEM}_tracksys-implement_run-2_events.tsv`)!
      .trim()
      .split('\n')
      .slice(1);
    expect(events).toHaveLength(first.view.swings.length);
    for (const event of events) {
      const onset = Number(event.split('\t')[0]);
      // Jerk as the largest change of acceleration between neighbouring samples within 100 ms of the event.
      const near = rows.filter(([latency]) => Math.abs(latency! - onset) < 0.1);
      const jerks = near
        .slice(1)
        .map((row, n) =>
          Math.hypot(row[4]! - near[n]![4]!, row[5]! - near[n]![5]!, row[6]! - near[n]![6]!),
        );
      const shockAt = near[1 + jerks.indexOf(Math.max(...jerks))]![0]!;
      // Ringing may be hardest some samples after the first.
      expect(shockAt - onset).toBeGreaterThan(-0.006);
      expect(shockAt - onset).toBeLessThan(0.03);
    }
  });

  it('gives duration and reach of each swing near those that were simulated', () => {
    const { truth } = simulatedSet({ swings: 2 }).session;
    const [header, ...events] = files
      .get(`${STEM}_tracksys-implement_run-2_events.tsv`)!
      .trim()
      .split('\n')
      .map((line) => line.split('\t'));
    expect(events).toHaveLength(truth.swings.length);
    for (const [i, { startTimeUs, contactTimeUs, reachM }] of truth.swings.entries()) {
      const cell = (name: string) => events[i]![header!.indexOf(name)]!;
      // Contact is found to 3 ms (design.md section 13), the start to a few samples.
      const durationS = (contactTimeUs - startTimeUs) * 1e-6;
      expect(Math.abs(Number(cell('swing_duration')) - durationS)).toBeLessThan(0.02);
      // Mean error and four SDs of design.md section 13: 1 cm and 4 x 0.6 cm.
      expect(Math.abs(Number(cell('reach')) - reachM)).toBeLessThan(0.034);
      expect(cell('void_reason')).toBe('n/a');
    }
  });

  it('puts the three sensors on one clock by acq_time and latency', () => {
    // At rest and in motion all sensors end together: the simulator stops all three at once, and the last
    // packets hold up to 20 samples (100 ms).
    const scans = files.get(
      'sub-PlayerAinvented/ses-20260131/sub-PlayerAinvented_ses-20260131_scans.tsv',
    )!;
    const ends = ['upperArm', 'forearm', 'implement'].map((system) => {
      const name = `tracksys-${system}_run-2_motion.tsv`;
      const [, time] = scans
        .split('\n')
        .find((line) => line.includes(name))!
        .split('\t');
      const last = files.get(`${STEM}_${name}`)!.trim().split('\n').at(-1)!;
      return Date.parse(time!) / 1000 + Number(last.split('\t')[0]);
    });
    expect(Math.max(...ends) - Math.min(...ends)).toBeLessThan(0.2);
  });

  it('says rates and counts as they are', () => {
    const motion = JSON.parse(files.get(`${STEM}_tracksys-upperArm_run-1_motion.json`)!);
    expect(motion.SamplingFrequency).toBe(200);
    // The simulated parts are off by up to 2 %.
    expect(Math.abs(motion.SamplingFrequencyEffective / 200 - 1)).toBeLessThan(0.021);
    expect(motion).toMatchObject({
      GYROChannelCount: 3,
      ACCELChannelCount: 3,
      MotionChannelCount: 8,
    });
  });

  it('keeps the rules with hostile names, and none of them leaves its folder or its cell', () => {
    const hostile = {
      player: '../../=cmd|"x"\t\n<script>',
      implement: '\t=1+1\nnext',
      ball: '-2',
      setId: 'x',
    };
    const bad = dataset([
      { ...first, records: [], description: { ...first.description, ...hostile } },
      {
        ...second,
        description: { ...second.description, ...hostile, player: '', handedness: 'left' },
      },
    ]);
    expect(motionBidsFaults(bad)).toEqual([]);
    for (const path of bad.keys()) expect(path).toMatch(/^[A-Za-z0-9_./-]+$/);
    for (const path of bad.keys()) expect(path).not.toContain('..');
    for (const [path, text] of bad) {
      if (!path.endsWith('.tsv') || path.endsWith('_motion.tsv')) continue;
      for (const cell of text.split(/[\t\n]/)) expect(cell).not.toMatch(/^[=+@]|^-[^0-9]/);
    }
    expect(bad.get('participants.tsv')).toContain('left\tn/a\n');
  });

  it('says nothing of a set without samples but that it was there', () => {
    const empty = dataset([{ ...first, records: [] }]);
    expect([...empty.keys()].filter((path) => path.includes('/motion/'))).toEqual([]);
    expect(empty.get('participants.tsv')).toContain('sub-PlayerAinvented');
  });
});

describe('bidsPlaces', () => {
  const of = (...players: string[]) =>
    bidsPlaces(players.map((player) => ({ ...sampleDescription, player })));

  it('gives each pseudonym a label of letters and digits, no two alike on any disk', () => {
    const players = ['Zoë 7', 'zoe7', 'ZOE-7', 'Zoe7x2', '李', '🏓', 'a/../b', 'A'.repeat(200)];
    const labels = of(...players).map(({ subject }) => subject);
    for (const label of labels) expect(label).toMatch(/^sub-[A-Za-z0-9]+$/);
    expect(new Set(labels.map((label) => label.toLowerCase())).size).toBe(players.length);
    expect(labels[0]).toBe('sub-Zoe7');
  });

  it('keeps sets of one player together and counts them by day', () => {
    const dayMs = 86_400_000;
    const places = bidsPlaces(
      [3 * dayMs, 5, 1, 2 * dayMs].map((startedAtMs) => ({ ...sampleDescription, startedAtMs })),
    );
    expect(places.map(({ session, run }) => [session, run])).toEqual([
      ['ses-19700104', 1],
      ['ses-19700101', 2],
      ['ses-19700101', 1],
      ['ses-19700103', 1],
    ]);
  });
});

describe('acquisitionTime', () => {
  it('is the wall clock to the microsecond, before the start too', () => {
    const start = Date.UTC(2026, 11, 31, 23, 59, 59, 999);
    expect(acquisitionTime(start, 1234)).toBe('2027-01-01T00:00:00.000234Z');
    expect(acquisitionTime(start, -999_001)).toBe('2026-12-31T23:59:58.999999Z');
    expect(acquisitionTime(0.5, 0)).toBe('1970-01-01T00:00:00.000500Z');
    expect(acquisitionTime(8.64e15, 2e6)).toBeNull();
  });
});

describe('the rules themselves', () => {
  const implement = `${STEM}_tracksys-implement_run-1`;
  const changed = (path: string, change: (text: string) => string): Dataset =>
    new Map([...files, [path, change(files.get(path)!)]]);
  const without = (path: string): Dataset => new Map([...files].filter(([name]) => name !== path));

  it.each<[string, Dataset, RegExp]>([
    [
      'a header in motion.tsv',
      changed(`${implement}_motion.tsv`, (text) => `latency\tx\n${text}`),
      /header/,
    ],
    [
      'a channel too few',
      changed(`${implement}_channels.tsv`, (text) => text.replace(/gyro_z.*\n/, '')),
      /number/,
    ],
    [
      'a type in lower case',
      changed(`${implement}_channels.tsv`, (text) => text.replace('GYRO', 'gyro')),
      /type gyro/,
    ],
    [
      'degrees',
      changed(`${implement}_channels.tsv`, (text) => text.replace('rad/s', 'deg/s')),
      /unit deg/,
    ],
    [
      'columns in another order',
      changed(`${implement}_channels.tsv`, (text) =>
        text.replace('name\tcomponent', 'component\tname'),
      ),
      /other columns/,
    ],
    [
      'an undescribed frame',
      changed(`${implement}_channels.json`, () => '{}'),
      /does not describe/,
    ],
    ['no sidecar', without(`${implement}_motion.json`), /lacks/],
    [
      'another task name',
      changed(`${implement}_motion.json`, (text) => text.replace('"striking"', '"serving"')),
      /TaskName/,
    ],
    [
      'latencies that fall',
      changed(`${implement}_motion.tsv`, (text) => text.replace(/\n0\.01/, '\n9.01')),
      /grow/,
    ],
    [
      'no scans.tsv',
      without('sub-PlayerAinvented/ses-20260131/sub-PlayerAinvented_ses-20260131_scans.tsv'),
      /scans/,
    ],
    [
      'no participants',
      changed('participants.tsv', (text) => text.split('\n')[0]!),
      /folder without/,
    ],
    [
      'a name without tracksys',
      new Map([...files, [`${STEM}_run-1_motion.json`, '{}']]),
      /not named/,
    ],
    [
      'an empty cell',
      changed('participants.tsv', (text) => text.replace('right', '')),
      /empty cell/,
    ],
    [
      'no licence is allowed, no version is not',
      changed('dataset_description.json', (text) => text.replace('BIDSVersion', 'Version')),
      /BIDSVersion/,
    ],
    [
      'events out of order',
      changed(`${implement}_events.tsv`, (text) => text.replace(/\n\d+\./, '\n9999.')),
      /sorted/,
    ],
  ])('find %s', (_, broken, words) => {
    expect(motionBidsFaults(broken).join('\n')).toMatch(words);
  });
});
