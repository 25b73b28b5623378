import { SEGMENT_WORDS, SEGMENTS } from '../arm/segments.ts';
import type { SwingRow } from './swing-row.ts';
import { type ColumnOf, columnsOver, type Table, tableOf } from './table.ts';

const { text, number, integer, truth, time } = columnsOver<SwingRow>();

/** Names of the segments inside column names. */
export const SEGMENT_NAMES = { upperArm: 'upper_arm', forearm: 'forearm', implement: 'implement' };

const WHICH: readonly ColumnOf<SwingRow>[] = [
  text('set_id', 'Name of the set.', (row) => row.description.setId),
  time('set_started_at', 'When the set began.', (row) => row.description.startedAtMs),
  text(
    'source',
    'sensors, simulated or imported: where the samples came from.',
    (row) => row.description.source,
  ),
  text('player', 'Pseudonym of the player.', (row) => row.description.player),
  text('handedness', 'left or right: the striking arm.', (row) => row.description.handedness),
  integer('block', 'Block of the set, from 1.', ({ scored }) => scored.block + 1),
  text('implement', 'Implement of the block.', (row) => row.condition.implement),
  text('ball', 'Ball of the block.', (row) => row.condition.ball),
  text('feed', 'How the ball came; null when nobody said.', (row) => row.condition.feed),
  integer(
    'swing',
    'Place in the set, from 1; void swings count.',
    (row) => row.scored.swing.index + 1,
  ),
];

/** Of a void swing the pipeline reports neither start nor quality. */
const ofSound =
  <Value>(read: (row: SwingRow) => Value) =>
  (row: SwingRow): Value | null =>
    row.scored.swing.voidReason === null ? read(row) : null;

const WHEN: readonly ColumnOf<SwingRow>[] = [
  number(
    'start_time_s',
    's',
    'Start of the forward swing, since the start of the set; null when void.',
    ofSound((row) => row.scored.swing.startTimeUs / 1e6),
  ),
  number(
    'contact_time_s',
    's',
    'Contact, since the start of the set; of an air swing its fastest turning.',
    (row) => row.scored.swing.contactTimeUs / 1e6,
  ),
  number(
    'duration_s',
    's',
    'From start to contact; null when void.',
    ofSound(({ scored: { swing } }) => (swing.contactTimeUs - swing.startTimeUs) / 1e6),
  ),
  truth('ends_moved', 'The coach moved start or contact by hand.', (row) => row.scored.endsMoved),
];

const REACH: readonly ColumnOf<SwingRow>[] = [
  number(
    'reach_m',
    'm',
    'Shoulder to sweet spot at contact; null when void.',
    (row) => row.scored.swing.reachM,
  ),
  number(
    'reach_standard_error_m',
    'm',
    'Standard error of reach_m against the truth.',
    (row) => row.scored.swing.reachStandardErrorM,
  ),
  number(
    'horizontal_reach_m',
    'm',
    'Length of the reach vector in the horizontal plane.',
    (row) => row.scored.swing.horizontalReachM,
  ),
  number(
    'frontal_reach_m',
    'm',
    'Length of the reach vector in the plane across the line to the target; null without court heading.',
    (row) => row.scored.swing.frontalReachM,
  ),
  number(
    'sagittal_reach_m',
    'm',
    'Length of the reach vector in the upright plane through the target; null without court heading.',
    (row) => row.scored.swing.sagittalReachM,
  ),
  number(
    'sweet_spot_speed_m_s',
    'm/s',
    'Speed of the sweet spot relative to the shoulder at contact.',
    (row) => row.scored.swing.sweetSpotSpeedMS,
  ),
  number(
    'peak_implement_rate_rad_s',
    'rad/s',
    'Fastest turning of the implement during the swing.',
    (row) => row.scored.swing.peakImplementRateRadS,
  ),
  number(
    'contact_implement_rate_rad_s',
    'rad/s',
    'Turning of the implement at contact.',
    (row) => row.scored.swing.contactImplementRateRadS,
  ),
];

const SAID: readonly ColumnOf<SwingRow>[] = [
  number('points', null, "The coach's points; null when not scored.", (row) => row.scored.points),
  number(
    'landing_beyond_m',
    'm',
    "Where the ball landed beyond the target's middle, away from the player; null when not noted.",
    (row) => row.scored.landingM?.[0] ?? null,
  ),
  number(
    'landing_left_m',
    'm',
    "Where the ball landed left of the target's middle; null when not noted.",
    (row) => row.scored.landingM?.[1] ?? null,
  ),
  truth('discarded', 'The coach discarded the swing.', (row) => row.scored.discarded),
  text(
    'discard_reason',
    'Why, in the words of the coach; null when nobody said.',
    (row) => row.scored.discardReason,
  ),
  text(
    'void_reason',
    'Why the swing has no reach; null when it has one.',
    (row) => row.scored.swing.voidReason,
  ),
  truth(
    'counted',
    'The measures of the set count it: neither void nor discarded.',
    ({ scored }) => scored.swing.voidReason === null && !scored.discarded,
  ),
];

const QUALITY: readonly ColumnOf<SwingRow>[] = [
  truth(
    'court_heading_known',
    'Whether it is known where the target is; null when void.',
    ofSound((row) => row.scored.swing.courtHeadingKnown),
  ),
  integer(
    'clipped_instants',
    'Instants of the 200 Hz timeline from start to contact at which a sensor was at the end of its range; null when void.',
    ofSound((row) => row.scored.swing.clippedSamples),
  ),
  integer(
    'interpolated_instants',
    'Instants of the 200 Hz timeline from start to contact between samples further apart than usual; null when void.',
    ofSound((row) => row.scored.swing.interpolatedSamples),
  ),
];

const ANGLES: readonly ColumnOf<SwingRow>[] = [
  ['upper_arm', 'Upper arm'],
  ['forearm', 'Forearm'],
  ['implement', 'Implement'],
  ['elbow', 'Forearm less upper arm'],
  ['wrist', 'Implement less forearm'],
].map(([name, words], k) =>
  number(
    `${name}_in_plane_rad`,
    'rad',
    `${words} in the swing plane of the condition at contact, growing toward contact; null where the measures have no angles.`,
    (row) => row.anglesRad?.[k] ?? null,
  ),
);

const AXES = [
  ['x', 'to the target'],
  ['y', 'to the left'],
  ['z', 'up'],
] as const;

const DIRECTIONS: readonly ColumnOf<SwingRow>[] = SEGMENTS.flatMap((segment, k) =>
  AXES.map(([axis, where], i) =>
    number(
      `${SEGMENT_NAMES[segment]}_direction_${axis}`,
      null,
      `Unit vector along the ${SEGMENT_WORDS[segment]} at contact, away from the shoulder, court frame, ${where}; null when void${axis === 'z' ? '' : ' or without court heading'}.`,
      ({ directions, scored }) =>
        directions !== null && (axis === 'z' || scored.swing.courtHeadingKnown)
          ? directions[3 * k + i]!
          : null,
    ),
  ),
);

/** Columns of the table of swings, in order. */
export const SWING_COLUMNS: readonly ColumnOf<SwingRow>[] = [
  ...WHICH,
  ...WHEN,
  ...REACH,
  ...SAID,
  ...QUALITY,
  ...ANGLES,
  ...DIRECTIONS,
];

/** One row per swing, of as many sets as are given. Checked: tests/exports/tables.test.ts */
export function swingTable(rows: Iterable<SwingRow>): Table {
  return tableOf('swing', SWING_COLUMNS, rows);
}
