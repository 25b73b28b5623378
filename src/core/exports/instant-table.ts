import {
  ARM_ROW,
  GRID_CAPACITY,
  GRID_CLIPPED,
  GRID_GAP,
  GRID_IN_SHOCK,
  GRID_INTERPOLATED,
  GRID_STEP_US,
  oldestInstant,
  slotOf,
} from '../arm/arm-timeline.ts';
import { SEGMENT_WORDS, SEGMENTS } from '../arm/segments.ts';
import { type PipelineState, type SwingEntry, stepPipeline } from '../pipeline/pipeline.ts';
import type { SetRecord } from '../recording/set-record.ts';
import { SEGMENT_NAMES } from './swing-table.ts';
import { type ColumnOf, columnsOver, type Table, tableOf } from './table.ts';

/** One instant of the timeline. */
interface InstantRow {
  /** Host time, microseconds. */
  readonly timeUs: number;
  /** Bits of arm-timeline.ts. */
  readonly flags: number;
  /** qEarthFromSensor of the three sensors, shape (12). */
  readonly q: Float64Array;
  /** Angular velocity of the implement in its earth frame, rad/s, shape (3). */
  readonly implementRate: Float64Array;
  /** Speed of turning of each sensor, rad/s, shape (3). */
  readonly turnRateRadS: Float64Array;
  /** Place of the swing it belongs to, from 1; null between swings. */
  readonly swing: number | null;
}

const { number, integer, truth } = columnsOver<InstantRow>();

/** The orientations at an instant with a gap are those from before it. */
const unlessGap =
  (read: (row: InstantRow) => number) =>
  (row: InstantRow): number | null =>
    (row.flags & GRID_GAP) === 0 ? read(row) : null;

const flag = (name: string, bit: number, meaning: string): ColumnOf<InstantRow> =>
  truth(name, meaning, ({ flags }) => (flags & bit) !== 0);

/** Columns of the time series, in order. */
export const INSTANT_COLUMNS: readonly ColumnOf<InstantRow>[] = [
  number('time_s', 's', 'Since the start of the set.', ({ timeUs }) => timeUs / 1e6),
  integer(
    'swing',
    'Place of the swing in the set, from 1, from its start to its contact as found; null between swings.',
    ({ swing }) => swing,
  ),
  ...SEGMENTS.flatMap((segment, k) =>
    ['w', 'x', 'y', 'z'].map((component, i) =>
      number(
        `q_earth_from_${SEGMENT_NAMES[segment]}_${component}`,
        null,
        `Unit quaternion (Hamilton) that turns vectors from the frame of the sensor on the ${SEGMENT_WORDS[segment]} into an earth frame of its own, z up, its heading not that of the others; null in a gap.`,
        unlessGap(({ q }) => q[4 * k + i]!),
      ),
    ),
  ),
  ...SEGMENTS.map((segment, k) =>
    number(
      `${SEGMENT_NAMES[segment]}_turn_rate_rad_s`,
      'rad/s',
      `How fast the sensor on the ${SEGMENT_WORDS[segment]} turns, bias removed; null in a gap.`,
      unlessGap(({ turnRateRadS }) => turnRateRadS[k]!),
    ),
  ),
  ...['x', 'y', 'z'].map((axis, i) =>
    number(
      `implement_rate_${axis}_rad_s`,
      'rad/s',
      'Angular velocity of the implement in its earth frame, bias removed; null in a gap.',
      unlessGap(({ implementRate }) => implementRate[i]!),
    ),
  ),
  flag(
    'gap',
    GRID_GAP,
    'Samples of some sensor lie more than 25 ms apart here, or there are none.',
  ),
  flag('clipped', GRID_CLIPPED, 'A sample of some sensor right here was at the end of its range.'),
  flag('in_shock', GRID_IN_SHOCK, 'Within 100 ms after a knock on some sensor.'),
  flag('interpolated', GRID_INTERPOLATED, 'Between samples further apart than usual.'),
];

/**
 * The whole timeline of a set at 200 Hz, one row per instant, as the pipeline reads it live. Rows are made while the
 * pipeline runs: when the last one has been taken, `state` is that of the finished set.
 * @param state fresh, for this set
 * @param records the whole set
 * Checked: tests/exports/instants.test.ts
 */
export function instantTable(state: PipelineState, records: Iterable<SetRecord>): Table {
  return tableOf('instant', INSTANT_COLUMNS, instants(state, records));
}

type Unnumbered = Omit<InstantRow, 'swing'>;

function* instants(
  state: PipelineState,
  records: Iterable<SetRecord>,
): Generator<InstantRow, void, void> {
  const { timeline } = state.arm;
  const numbering = { next: 0 };
  let waiting: Unnumbered[] = [];
  let read = 0;
  for (const record of records) {
    stepPipeline(state, record);
    for (; read < timeline.count; read++) waiting.push(instantAt(state, read));
    // A swing is cut out of what the ring holds, so that older instants belong to no swing yet to come.
    const settled = waiting.length - (timeline.count - oldestInstant(timeline));
    if (settled < GRID_CAPACITY) continue;
    yield* numbered(waiting.slice(0, settled), state.swings, numbering);
    waiting = waiting.slice(settled);
  }
  yield* numbered(waiting, state.swings, numbering);
}

function instantAt({ arm: { timeline } }: PipelineState, n: number): Unnumbered {
  const slot = slotOf(n);
  // More than the ring holds came at once, after a sensor was waited for: its orientations are gone.
  const isGone = n < oldestInstant(timeline);
  const newestUs = timeline.nextUs - GRID_STEP_US;
  return {
    timeUs: isGone ? newestUs - (timeline.count - 1 - n) * GRID_STEP_US : timeline.timeUs[slot]!,
    flags: isGone ? GRID_GAP : timeline.flags[slot]!,
    q: timeline.q.slice(ARM_ROW * slot, ARM_ROW * (slot + 1)),
    implementRate: timeline.implementRate.slice(3 * slot, 3 * slot + 3),
    turnRateRadS: timeline.turnRateRadS.slice(3 * slot, 3 * slot + 3),
  };
}

/** @param numbering the first swing that may not be over yet */
function* numbered(
  rows: readonly Unnumbered[],
  swings: readonly SwingEntry[],
  numbering: { next: number },
): Generator<InstantRow, void, void> {
  for (const row of rows) {
    while (numbering.next < swings.length && contactUs(swings[numbering.next]!) < row.timeUs) {
      numbering.next++;
    }
    const cut = swings[numbering.next]?.cut;
    const isInside = cut !== undefined && cut.fault === null && cut.startUs <= row.timeUs;
    yield { ...row, swing: isInside ? numbering.next + 1 : null };
  }
}

function contactUs({ cut }: SwingEntry): number {
  return cut.contact.timeUs;
}
