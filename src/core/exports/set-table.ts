import { SEGMENT_WORDS, SEGMENTS } from '../arm/segments.ts';
import type { VoidReason } from '../swings/swing.ts';
import { MEASURE_COLUMNS } from './measure-columns.ts';
import type { SetRow } from './set-row.ts';
import { SEGMENT_NAMES } from './swing-table.ts';
import { type ColumnOf, columnsOver, type Table, tableOf } from './table.ts';
import { VERDICT_COLUMNS } from './verdict-columns.ts';

const { text, number, integer, truth, time } = columnsOver<SetRow>();

const VOID_REASONS: Readonly<Record<VoidReason, string>> = {
  'not-zeroed': 'before the poses',
  'sensor-gap': 'samples missing',
  unsettled: 'soon after samples were missing',
  'no-forward-swing': 'contact without a forward swing',
  'air-swing': 'nothing was met',
  swapped: "sensors at each other's places",
  slipped: 'a sensor slipped',
};

const WHICH: readonly ColumnOf<SetRow>[] = [
  text('set_id', 'Name of the set.', (row) => row.description.setId),
  time('set_started_at', 'When the set began.', (row) => row.description.startedAtMs),
  text(
    'source',
    'sensors, simulated or imported: where the samples came from.',
    (row) => row.description.source,
  ),
  text(
    'program_version',
    'Version of the program that recorded it.',
    (row) => row.description.programVersion,
  ),
  text('player', 'Pseudonym of the player.', (row) => row.description.player),
  text('handedness', 'left or right: the striking arm.', (row) => row.description.handedness),
  text(
    'blocks',
    'Blocks of the set swung under the condition of this row, from 1, with spaces between.',
    (row) => row.blocks.map((block) => block + 1).join(' '),
  ),
  integer('block_count', 'Blocks of the whole set.', (row) => row.blockCount),
  text('implement', 'Implement.', (row) => row.condition.implement),
  text('ball', 'Ball.', (row) => row.condition.ball),
  text('feed', 'How the ball came; null when nobody said.', (row) => row.condition.feed),
  number(
    'upper_arm_length_m',
    'm',
    'Shoulder to elbow.',
    (row) => row.description.lengthsM.upperArm,
  ),
  number('forearm_length_m', 'm', 'Elbow to wrist.', (row) => row.description.lengthsM.forearm),
  number(
    'implement_length_m',
    'm',
    'Wrist to sweet spot.',
    (row) => row.condition.implementLengthM,
  ),
  truth(
    'arm_estimated',
    'Upper arm and forearm are estimated from stature, not measured.',
    (row) => row.description.armEstimatedFromStatureM !== undefined,
  ),
  integer(
    'calibrated_sensors',
    'Bench calibrations that came with the set.',
    (row) => row.description.calibrations?.length ?? 0,
  ),
  number(
    'wanted_reach_m',
    'm',
    'Middle of the band of reach that the coach hoped for; null when none was set.',
    (row) => row.description.sweetSpotBand?.reachM ?? null,
  ),
  number(
    'wanted_half_width_m',
    'm',
    'Half width of that band.',
    (row) => row.description.sweetSpotBand?.halfWidthM ?? null,
  ),
  number(
    'full_points',
    null,
    'Most points of the score pad; null without one.',
    ({ description: { scoreSteps } }) => (scoreSteps.length === 0 ? null : Math.max(...scoreSteps)),
  ),
  number(
    'recorded_s',
    's',
    'From the start of the set to its last record.',
    (row) => row.view.hostTimeUs / 1e6,
  ),
];

const COUNTS: readonly ColumnOf<SetRow>[] = [
  integer(
    'swings',
    'Swings under the condition, void and discarded ones too.',
    (row) => row.swings.length,
  ),
  integer(
    'counted_swings',
    'Swings that the measures count: neither void nor discarded.',
    (row) => row.measures.n,
  ),
  integer(
    'swings_with_reach',
    'Swings that are not void.',
    count(({ swing }) => swing.voidReason === null),
  ),
  integer(
    'discarded_swings',
    'Swings the coach discarded.',
    count(({ discarded }) => discarded),
  ),
  integer(
    'scored_swings',
    'Swings with points.',
    count(({ points }) => points !== null),
  ),
  ...Object.entries(VOID_REASONS).map(([reason, words]) =>
    integer(
      `void_${reason.replaceAll('-', '_')}`,
      `Void swings: ${words}.`,
      count(({ swing }) => swing.voidReason === reason),
    ),
  ),
];

const SENSORS: readonly ColumnOf<SetRow>[] = SEGMENTS.flatMap((segment) => {
  const name = SEGMENT_NAMES[segment];
  const where = `sensor on the ${SEGMENT_WORDS[segment]}`;
  const health = ({ view }: SetRow) => view.sensors[segment];
  return [
    number(
      `${name}_rate_hz`,
      'Hz',
      `Sampling rate of the ${where}, by its own clock.`,
      (row) => health(row).rateHz,
    ),
    integer(
      `${name}_samples`,
      `Samples of the ${where} since it last began anew.`,
      (row) => health(row).samples,
    ),
    integer(
      `${name}_lost_packets`,
      `Packets of the ${where} that never came.`,
      (row) => health(row).lostPackets,
    ),
    integer(
      `${name}_refused_packets`,
      `Packets of the ${where} that could not be used.`,
      (row) => health(row).refusedPackets,
    ),
    integer(
      `${name}_clipped_samples`,
      `Samples of the ${where} at the end of its range.`,
      (row) => health(row).clippedSamples,
    ),
  ];
});

const FILE: readonly ColumnOf<SetRow>[] = [
  truth(
    'file_complete',
    'The file of the set was ended and is unchanged; null without a set file.',
    ({ file }) => file?.complete ?? null,
  ),
  text(
    'file_fault',
    'What was wrong with the file; null when nothing was.',
    ({ file }) => file?.fault ?? null,
  ),
  number(
    'file_lost_bytes',
    'byte',
    'Bytes behind the last whole record.',
    ({ file }) => file?.lostBytes ?? null,
  ),
  integer(
    'file_skipped_records',
    'Whole records that were not understood.',
    ({ file }) => file?.skippedRecords ?? null,
  ),
];

/** Columns of the table of sets, in order. */
export const SET_COLUMNS: readonly ColumnOf<SetRow>[] = [
  ...WHICH,
  ...COUNTS,
  ...SENSORS,
  ...FILE,
  ...MEASURE_COLUMNS,
  ...VERDICT_COLUMNS,
];

/** One row per set and condition, of as many sets as are given. Checked: tests/exports/tables.test.ts */
export function setTable(rows: Iterable<SetRow>): Table {
  return tableOf('set', SET_COLUMNS, rows);
}

function count(isMeant: (swing: SetRow['swings'][number]) => boolean): (row: SetRow) => number {
  return ({ swings }) => swings.filter(isMeant).length;
}
