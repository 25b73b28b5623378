import { textTable } from '../../reports/text-table.ts';
import { DEMO_FILE } from './demo-set.ts';
import { MEASURES_GOAL_MS, timeMeasures } from './measures-time.ts';

// npm run bench:measures: how the cost of the measures grows with the swings; ten thousand take minutes.

const COUNTS = [10, 40, 160, 640, 2500, 10_000];

console.log(
  `All measures with 2000 resamples, milliseconds of processor time; swings drawn from ${DEMO_FILE}.\n`,
);
const rows: string[][] = [];
let names: string[] = [];
let at40 = Number.NaN;
for (const times of timeMeasures(COUNTS)) {
  const n = COUNTS[rows.length]!;
  names = [...times.keys()];
  if (n === 40) at40 = times.get('all')!;
  const ratio = times.get('all')! / at40;
  rows.push([
    String(n),
    ...[...times.values()].map((ms) => ms.toFixed(ms < 1 ? 3 : 0)),
    Number.isNaN(ratio) ? '' : ratio.toFixed(1),
  ]);
  process.stderr.write(`\r${n} swings`);
}
process.stderr.write('\n');
console.log(textTable(['swings', ...names, 'all, to 40 swings'], rows));
const isMet = at40 <= MEASURES_GOAL_MS;
console.log(`Goal: 40 swings within ${MEASURES_GOAL_MS} ms: ${isMet ? 'met' : 'missed'}.`);
if (!isMet) process.exitCode = 1;
