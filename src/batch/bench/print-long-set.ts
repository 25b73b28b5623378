import { textTable } from '../../reports/text-table.ts';
import { type LongSetReport, runLongSet } from './long-set.ts';

// What hours of streaming cost: memory and time while the set runs, and of opening it afterwards.
// npm run bench:long -- [hours, default 4] [swings a minute, default 10; 0.1 shows what streaming alone costs]

const hours = Number(process.argv[2] ?? 4);
const swingsPerMinute = Number(process.argv[3] ?? 10);

const reports: LongSetReport[] = [];
const opening = runLongSet(hours, swingsPerMinute, (report) => {
  reports.push(report);
  process.stderr.write(`\r${report.hours.toFixed(1)} h`);
});
process.stderr.write('\n');
console.log(
  textTable(
    ['hour', 'heap MB', 'buffers MB', 'file MB', 'swings', 'live s', 'one view ms'],
    reports.map((at) => [
      at.hours.toFixed(1),
      at.heapMB.toFixed(1),
      at.buffersMB.toFixed(1),
      at.fileMB.toFixed(1),
      String(at.swings),
      at.liveS.toFixed(1),
      at.viewMs.toFixed(1),
    ]),
  ),
);
const { readS, pipelineS, keptS, reviewS, isComplete, swings } = opening;
console.log(
  `\nopening: read ${readS.toFixed(1)} s, state kept and read again ${keptS.toFixed(1)} s, review ${reviewS.toFixed(1)} s; without a kept state also the pipeline ${pipelineS.toFixed(1)} s`,
);
console.log(`${swings} swings, ${isComplete ? 'nothing missing' : 'SOMETHING IS MISSING'}`);
if (!isComplete) process.exitCode = 1;
