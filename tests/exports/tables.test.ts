import { describe, expect, it } from 'vitest';
import { INSTANT_COLUMNS } from '../../src/core/exports/instant-table.ts';
import { EXPORTED_MEASURES } from '../../src/core/exports/measure-columns.ts';
import { SAMPLE_COLUMNS } from '../../src/core/exports/sample-table.ts';
import { setRows } from '../../src/core/exports/set-row.ts';
import { SET_COLUMNS } from '../../src/core/exports/set-table.ts';
import { type SwingRow, swingRows } from '../../src/core/exports/swing-row.ts';
import { SWING_COLUMNS } from '../../src/core/exports/swing-table.ts';
import {
  type Cell,
  type ColumnOf,
  cellsOf,
  columnsOver,
  tableOf,
} from '../../src/core/exports/table.ts';
import { reviewPipeline } from '../../src/core/pipeline/review.ts';
import type { SetRecord } from '../../src/core/recording/set-record.ts';
import { DEFAULT_ERRORS } from '../../src/core/simulator/sensor-errors.ts';
import { simulatedSet } from '../pipeline/simulated-set.ts';
import { sampleDescription } from '../recording/sample-set.ts';
import { demoRows, finishedState } from './demo-set.ts';

const TABLES = {
  swing: SWING_COLUMNS,
  set: SET_COLUMNS,
  instant: INSTANT_COLUMNS,
  sample: SAMPLE_COLUMNS,
};

/** How a unit stands at the end of a name. */
const ENDINGS: Readonly<Record<string, string>> = {
  m: '_m',
  s: '_s',
  'm/s': '_m_s',
  'm/s^2': '_m_s2',
  rad: '_rad',
  'rad/s': '_rad_s',
  'rad^2': '_rad2',
  Hz: '_hz',
  byte: '_bytes',
};

function named<Row>(columns: readonly ColumnOf<Row>[], row: Row): Record<string, Cell> {
  const cells = cellsOf(columns, row);
  return Object.fromEntries(columns.map(({ name }, i) => [name, cells[i]!]));
}

describe('columns', () => {
  it.each(Object.entries(TABLES))(
    'of %s have names of their own that any database takes',
    (_, columns) => {
      const names = columns.map(({ name }) => name);
      expect(new Set(names).size).toBe(names.length);
      for (const name of names) expect(name).toMatch(/^[a-z][a-z0-9_]{0,62}$/);
    },
  );

  it.each(Object.entries(TABLES))(
    'of %s say their unit in their name, and what they mean',
    (_, columns) => {
      for (const { name, unit, meaning } of columns) {
        const stem = name.replace(/_(low|high)$/, '');
        if (unit !== null) expect(stem.endsWith(ENDINGS[unit]!), name).toBe(true);
        expect(meaning, name).toMatch(/^\S.*[^.]\.$/);
      }
    },
  );

  it('refuse a fraction where a whole number belongs, and more than 32 bits', () => {
    const { integer } = columnsOver<number>();
    const table = (value: number) => [
      ...tableOf('t', [integer('n', 'A number.', (row) => row)], [value]).rows,
    ];
    expect(() => table(1.5)).toThrow(/column n holds whole numbers/);
    expect(() => table(2 ** 31)).toThrow(RangeError);
    expect(table(-7)).toEqual([[-7]]);
  });
});

describe('the table of swings', () => {
  const { state, swings } = demoRows('full');
  const view = reviewPipeline(state);

  it('has a row for every swing, counted from 1, with the numbers of the review', () => {
    expect(swings).toHaveLength(view.swings.length);
    swings.forEach((row, i) => {
      const { swing, points } = view.swings[i]!;
      expect(named(SWING_COLUMNS, row)).toMatchObject({
        set_id: state.description.setId,
        swing: i + 1,
        contact_time_s: swing.contactTimeUs / 1e6,
        reach_m: swing.reachM,
        points,
        counted: true,
        void_reason: null,
      });
    });
  });

  it('has directions along which the segments reach as far as it says', () => {
    for (const row of swings) {
      const cells = named(SWING_COLUMNS, row);
      const { upperArm, forearm, implement } = state.description.lengthsM;
      const sum = (axis: string) =>
        upperArm * Number(cells[`upper_arm_direction_${axis}`]) +
        forearm * Number(cells[`forearm_direction_${axis}`]) +
        implement * Number(cells[`implement_direction_${axis}`]);
      const [x, y, z] = [sum('x'), sum('y'), sum('z')];
      // Design.md section 7: v = L_u d_u + L_f d_f + L_i d_i, and its projections. Directions and reach are
      // interpolated apart: within a millimetre.
      expect(Math.hypot(x, y, z)).toBeCloseTo(Number(cells.reach_m), 3);
      expect(Math.hypot(x, y)).toBeCloseTo(Number(cells.horizontal_reach_m), 2);
      expect(Math.hypot(y, z)).toBeCloseTo(Number(cells.frontal_reach_m), 2);
    }
  });

  it('has joint angles that are differences of segment angles', () => {
    for (const row of swings) {
      const cells = named(SWING_COLUMNS, row);
      const difference = (a: string, b: string) =>
        Number(cells[`${a}_in_plane_rad`]) - Number(cells[`${b}_in_plane_rad`]);
      const off = (joint: string, turn: number) =>
        Math.abs(Math.sin((Number(cells[`${joint}_in_plane_rad`]) - turn) / 2));
      expect(off('elbow', difference('forearm', 'upper_arm'))).toBeLessThan(1e-9);
      expect(off('wrist', difference('implement', 'forearm'))).toBeLessThan(1e-9);
    }
  });
});

describe('a set that was never zeroed', () => {
  const { session, records } = simulatedSet({
    swings: 3,
    errors: { ...DEFAULT_ERRORS, poses: false },
  });
  const discarded: SetRecord = {
    kind: 'event',
    hostTimeUs: records.at(-1)!.hostTimeUs,
    event: { type: 'discarded', contactTimeUs: session.truth.swings[1]!.contactTimeUs },
  };
  const state = finishedState({
    description: session.description,
    records: [...records, discarded],
  });
  const rows = swingRows(state).map((row: SwingRow) => named(SWING_COLUMNS, row));

  it('has swings with a time and a reason, and null where there is no number', () => {
    expect(rows.map(({ void_reason }) => void_reason)).toEqual(Array(3).fill('not-zeroed'));
    for (const row of rows) {
      expect(row.contact_time_s).toBeGreaterThan(0);
      for (const name of [
        'start_time_s',
        'duration_s',
        'reach_m',
        'reach_standard_error_m',
        'clipped_instants',
        'court_heading_known',
        'upper_arm_in_plane_rad',
        'implement_direction_z',
      ])
        expect(row[name], name).toBeNull();
      expect(row.counted).toBe(false);
    }
    expect(rows.map((row) => row.discarded)).toEqual([false, true, false]);
  });

  it('counts them, and says of every measure why there is none', () => {
    const [row] = setRows(state, null, { seed: 1, resamples: 50 });
    const cells = named(SET_COLUMNS, row!);
    expect(cells.recorded_s).toBeCloseTo(discarded.hostTimeUs * 1e-6, 6);
    expect(cells).toMatchObject({
      swings: 3,
      counted_swings: 0,
      swings_with_reach: 0,
      discarded_swings: 1,
      void_not_zeroed: 3,
      void_air_swing: 0,
      funnel_shown: false,
      file_complete: null,
    });
    for (const { name } of EXPORTED_MEASURES) {
      expect(cells[name], name).toBeNull();
      expect(cells[`${name}_missing`], name).not.toBeNull();
    }
  });
});

describe('a set of three blocks, the last like the first', () => {
  const { session, records } = simulatedSet({ swings: 6 });
  const { contactTimeUs: thirdUs } = session.truth.swings[2]!;
  const { contactTimeUs: fourthUs } = session.truth.swings[3]!;
  const { description } = session;
  const began = (ball: string, hostTimeUs: number): SetRecord => ({
    kind: 'event',
    hostTimeUs,
    event: {
      type: 'block-began',
      condition: {
        implement: description.implement,
        ball,
        feed: '',
        implementLengthM: description.lengthsM.implement,
        implementSensorFromWristM: description.sensorFromJointM.implement,
        sweetSpotBand: null,
      },
    },
  });
  const state = finishedState({
    description,
    records: [
      ...records,
      began('another ball', thirdUs - 1e6),
      began(description.ball, fourthUs - 1e6),
    ].sort((a, b) => a.hostTimeUs - b.hostTimeUs),
  });

  it('has a row per condition, and swings that know their block', () => {
    const rows = setRows(state, null, { seed: 1, resamples: 50 });
    expect(rows.map((row) => named(SET_COLUMNS, row))).toMatchObject([
      { blocks: '1 3', block_count: 3, ball: description.ball, swings: 5, counted_swings: 5 },
      { blocks: '2', block_count: 3, ball: 'another ball', swings: 1, counted_swings: 1 },
    ]);
    const swings = swingRows(state).map((row) => named(SWING_COLUMNS, row));
    expect(swings.map(({ block }) => block)).toEqual([1, 1, 2, 3, 3, 3]);
    expect(swings[2]).toMatchObject({ ball: 'another ball', feed: null });
  });
});

describe('a set without a single record', () => {
  it('is a row without numbers', () => {
    const state = finishedState({ description: sampleDescription, records: [] });
    expect(swingRows(state)).toEqual([]);
    const file = { complete: false, fault: 'cut', lostBytes: 12, skippedRecords: 1 };
    const rows = setRows(state, file, { seed: 1, resamples: 50 });
    expect(rows.map((row) => named(SET_COLUMNS, row))).toMatchObject([
      {
        player: sampleDescription.player,
        swings: 0,
        implement_rate_hz: null,
        implement_samples: 0,
        file_complete: false,
        file_fault: 'cut',
        file_lost_bytes: 12,
        mean_reach_m_missing: 'too-few',
      },
    ]);
  });
});
