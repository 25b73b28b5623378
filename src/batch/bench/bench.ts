import { textTable } from '../../reports/text-table.ts';
import { timeBatch } from './batch-throughput.ts';
import type { BenchRow } from './bench-row.ts';
import { DEMO_FILE } from './demo-set.ts';
import { weighFirstLoad } from './first-load.ts';
import { type LongSetReport, runLongSet } from './long-set.ts';
import { MEASURES_GOAL_MS, timeMeasures } from './measures-time.ts';
import { timePipeline } from './pipeline-time.ts';

// npm run bench: what the program costs, in one run and one table; minutes. The other benches go into one line each.

const SWINGS = [10, 40, 160, 640];
const HOURS = 4;
const SWINGS_A_MINUTE = 10;
/** So few that all memory is what streaming itself costs. */
const HARDLY_ANY = 0.1;
const OPENING_GOAL_S = 5;

function measures(): BenchRow[] {
  const all: number[] = [];
  let liveMs = Number.NaN;
  for (const times of timeMeasures(SWINGS)) {
    all.push(times.get('all')!);
    liveMs = times.get('live, one swing')!;
  }
  const at40 = all[SWINGS.indexOf(40)]!;
  const rows = SWINGS.map((n, i): BenchRow => {
    const ms = all[i]!;
    const goal = { text: `at most ${MEASURES_GOAL_MS} ms`, isMet: ms <= MEASURES_GOAL_MS };
    const ratio = ms / at40;
    return {
      what: `all measures, ${n} swings, 2000 resamples`,
      value: ms,
      unit: 'ms',
      ratio,
      to: '40 swings',
      goal: n === 40 ? goal : null,
    };
  });
  const what = `live funnel, one more swing after ${SWINGS.at(-1)}`;
  return [
    ...rows,
    { what, value: liveMs, unit: 'ms', ratio: liveMs / at40, to: '40 swings', goal: null },
  ];
}

/** What streaming holds on to when the player hardly swings. */
function idleSet(): BenchRow {
  const reports: LongSetReport[] = [];
  runLongSet(HOURS, HARDLY_ANY, (report) => reports.push(report));
  const first = reports.find(({ hours }) => hours >= 1)!;
  const last = reports.at(-1)!;
  return {
    what: `memory that three more hours of streaming cost, ${last.swings - first.swings} swings in them`,
    value: heldMB(last) - heldMB(first),
    unit: 'MB',
    ratio: heldMB(last) / heldMB(first),
    to: 'after one hour',
    goal: null,
  };
}

function heldMB({ heapMB, buffersMB }: LongSetReport): number {
  return heapMB + buffersMB;
}

function longSet(): BenchRow[] {
  const reports: LongSetReport[] = [];
  const { readS, keptS, reviewS, isComplete } = runLongSet(HOURS, SWINGS_A_MINUTE, (report) =>
    reports.push(report),
  );
  const first = reports.find(({ hours }) => hours >= 1)!;
  const last = reports.at(-1)!;
  const openingS = readS + keptS + reviewS;
  return [
    {
      what: `memory after ${HOURS} hours, ${last.swings} swings (${isComplete ? 'nothing missing' : 'SOMETHING IS MISSING'} in the file)`,
      value: heldMB(last),
      unit: 'MB',
      ratio: heldMB(last) / heldMB(first),
      to: 'after one hour',
      goal: null,
    },
    {
      what: 'memory of one more swing',
      value: (1000 * (heldMB(last) - heldMB(first))) / (last.swings - first.swings),
      unit: 'kB',
      ratio: null,
      to: '',
      goal: null,
    },
    {
      what: `one more half hour of it, recorded and read live, processor time`,
      // the very last report is of what was left over
      value: reports.at(-2)!.liveS,
      unit: 's',
      ratio: reports.at(-2)!.liveS / reports[0]!.liveS,
      to: 'first half hour',
      goal: null,
    },
    {
      what: `one live view of ${last.swings} swings, processor time`,
      value: last.viewMs,
      unit: 'ms',
      ratio: last.viewMs / first.viewMs,
      to: `${first.swings} swings`,
      goal: null,
    },
    {
      what: 'opening it: read, kept state, review, processor time',
      value: openingS,
      unit: 's',
      ratio: null,
      to: '',
      goal: { text: `at most ${OPENING_GOAL_S} s`, isMet: openingS <= OPENING_GOAL_S },
    },
  ];
}

const parts: readonly (readonly [string, () => BenchRow[]])[] = [
  ['pipeline', timePipeline],
  ['measures', measures],
  ['batch', timeBatch],
  ['first load', () => [weighFirstLoad()]],
  ['four hours', longSet],
  ['four hours, hardly a swing', () => [idleSet()]],
];
const rows: BenchRow[] = [];
for (const [name, run] of parts) {
  process.stderr.write(`${name}…\n`);
  rows.push(...run());
}
console.log(
  `Node ${process.version}, ${process.arch}; samples and swings of ${DEMO_FILE}; compiled as the app is.\n`,
);
console.log(
  textTable(
    ['what', 'measured', 'ratio', 'goal'],
    rows.map(({ what, value, unit, ratio, to, goal }) => [
      what,
      `${value.toPrecision(3)} ${unit}`,
      ratio === null ? '' : `${ratio.toPrecision(3)} x ${to}`,
      goal === null ? '' : `${goal.text}: ${goal.isMet ? 'met' : 'missed'}`,
    ]),
  ),
);
