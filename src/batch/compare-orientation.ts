import { parseArgs } from 'node:util';
import { SEGMENT_WORDS, SEGMENTS } from '../core/arm/segments.ts';
import { DEG_PER_RAD, wrapAngle } from '../core/maths/angles.ts';
import { parseJson } from '../core/recording/json-shape.ts';
import { textTable } from '../reports/text-table.ts';
import { compareJoints } from './compare-joints.ts';
import { type Comparison, compareRelativeOrientation } from './compare-relative-orientation.ts';
import { RecordingFileError, readRecording, readText, within } from './read-recording.ts';
import { readReference } from './reference-orientation.ts';
import { rms } from './relative-error.ts';

const USAGE = `Usage: npm run compare
         several methods, on the open rig recordings and on simulated sets
       npm run compare -- TABLE.csv[.gz] --mapping MAPPING.json --reference REFERENCE.json
         the pipeline, against someone else's orientation of the same sensors`;

/** The headings need some movement first. */
const SETTLED_AFTER_S = 15;
const WINDOW_S = 10;

function main(): number {
  const { values, positionals } = parseArgs({
    allowPositionals: true,
    options: { mapping: { type: 'string' }, reference: { type: 'string' } },
  });
  const [path] = positionals;
  if (path === undefined && values.mapping === undefined && values.reference === undefined) {
    compareJoints();
    return 0;
  }
  if (path === undefined || values.mapping === undefined || values.reference === undefined) {
    console.error(USAGE);
    return 2;
  }
  try {
    compare(path, values.mapping, values.reference);
    return 0;
  } catch (error) {
    if (!(error instanceof RecordingFileError)) throw error;
    console.error(error.message);
    return 1;
  }
}

function compare(path: string, mappingPath: string, referencePath: string): void {
  const recording = readRecording(path, mappingPath, 'compare');
  const json = within(referencePath, () => parseJson(readText(referencePath), 'the reference'));
  const reference = within(referencePath, () => readReference(readText(path), json));
  printComparison(compareRelativeOrientation(recording, reference));
}

function printComparison(comparisons: readonly Comparison[]): void {
  const settled = comparisons.filter((c) => c.timeS >= SETTLED_AFTER_S);
  const offset = [0, 1].map((joint) => circularMean(settled.map((c) => c.heading[joint]!)));
  const cells = (part: readonly Comparison[], joint: number) => [
    rmsDegrees(part.map((c) => c.angle[joint]!)),
    rmsDegrees(
      part.map((c) => Math.hypot(wrapAngle(c.heading[joint]! - offset[joint]!), c.tilt[joint]!)),
    ),
    rmsDegrees(part.map((c) => c.tilt[joint]!)),
  ];
  const row = (name: string, part: readonly Comparison[]) => [
    name,
    String(part.length),
    ...cells(part, 0),
    ...cells(part, 1),
  ];
  const rows: string[][] = [];
  const last = comparisons.at(-1)?.timeS ?? 0;
  for (let from = 0; from < last; from += WINDOW_S) {
    const part = comparisons.filter((c) => c.timeS >= from && c.timeS < from + WINDOW_S);
    if (part.length > 0) rows.push(row(`${from}-${from + WINDOW_S}`, part));
  }
  rows.push(row(`${SETTLED_AFTER_S} on`, settled));
  const [elbow, wrist] = [0, 1].map(
    (i) => `${SEGMENT_WORDS[SEGMENTS[i]!]}-${SEGMENT_WORDS[SEGMENTS[i + 1]!]}`,
  );
  const degrees = offset.map((angle) => (DEG_PER_RAD * angle).toFixed(1));
  console.log(`Relative orientation of neighbouring segments against the recording's own, RMS in degrees.
The reference is a second opinion, not truth, and without magnetometer its sensors need not share one north:
"one north" takes off one constant turn about the vertical for the whole recording (${elbow} ${degrees[0]},
${wrist} ${degrees[1]} degrees); "tilt" takes off the best turn at every instant.
`);
  const columns = ['all', 'one north', 'tilt'];
  const heads = [elbow, wrist].flatMap((joint) => columns.map((column) => `${joint}: ${column}`));
  console.log(textTable(['seconds', 'n', ...heads], rows));
}

function rmsDegrees(anglesRad: readonly number[]): string {
  return (DEG_PER_RAD * rms(anglesRad)).toFixed(1);
}

function circularMean(anglesRad: readonly number[]): number {
  const sine = anglesRad.reduce((sum, v) => sum + Math.sin(v), 0);
  return Math.atan2(
    sine,
    anglesRad.reduce((sum, v) => sum + Math.cos(v), 0),
  );
}

process.exitCode = main();
