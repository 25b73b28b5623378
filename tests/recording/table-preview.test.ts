import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { readCsvMapping } from '../../src/core/recording/csv-mapping.ts';
import { recordingFromCsv } from '../../src/core/recording/csv-recording.ts';
import { ShapeError } from '../../src/core/recording/json-shape.ts';
import { TableError } from '../../src/core/recording/table-error.ts';
import { readTableMapping } from '../../src/core/recording/table-mapping.ts';
import { findVectors, meaningOf } from '../../src/core/recording/table-names.ts';
import { PREVIEW_CHARS, previewTable } from '../../src/core/recording/table-preview.ts';
import { reportTable } from '../../src/core/recording/table-report.ts';
import { TableText } from '../../src/core/recording/table-text.ts';
import { ODD_HEADER, oddCsv, simulatedTable } from './simulated-table.ts';

const beside = (name: string) => readFileSync(new URL(name, import.meta.url), 'utf8');
/** Two calm rows: time 0 and 0.01, gyros 0.01, accels 9.8 along z; other columns 0.5. */
function calmRows(header: readonly string[], accelOf = 9.8, stepOf = 0.01): string {
  const row = (time: number) =>
    header
      .map((name, column) => {
        if (column === 0) return time;
        return /acc.*z|az$/i.test(name) ? accelOf : 0.01;
      })
      .join(',');
  return [header.join(','), row(0), row(stepOf), row(2 * stepOf)].join('\n');
}

const right = (text: string) => previewTable(text, true).proposals.right;
const xyz = (label: string) => ['x', 'y', 'z'].map((axis) => label.replace('*', axis));
/** Columns of three sensors named after places. */
const header = (time: string, ...labels: string[]) => [time, ...labels.flatMap(xyz)];

describe('the proposal for the open upper-body table', () => {
  // The header of walk_sit_stand_upper_body.csv.gz (qmt example data, MIT), as it came.
  const names = beside('./qmt-header.csv').trim().split(',');
  const { left, right } = previewTable(calmRows(names), true).proposals;

  it('is the mapping that was written by hand, but for the unit that nothing tells', () => {
    const { choice, doubts } = right;
    const byHand = readTableMapping(JSON.parse(beside('./qmt-right-arm.mapping.json')));
    expect(choice.sensors).toEqual(byHand.sensors);
    expect(choice).toMatchObject({ time: 't', timeUnit: 's', accelUnit: 'm/s^2', gyroUnit: null });
    expect(doubts).toEqual([expect.stringMatching(/unit of the gyroscopes is not sure/)]);
  });

  it('takes the other arm for a left-hander', () => {
    expect(left.choice.sensors.implement.gyro).toEqual(xyz('hand_left_gyr_*'));
    expect(left.choice.sensors.upperArm.accel).toEqual(xyz('upper_arm_left_acc_*'));
  });
});

describe('previewTable', () => {
  it('reads names, units and delimiter of a table with odd names, without a doubt', () => {
    const preview = previewTable(oddCsv(simulatedTable(0)), true);
    expect(preview.delimiter).toBe(';');
    expect(preview.header).toEqual(ODD_HEADER);
    expect(preview.rows).toHaveLength(5);
    expect(preview.vectors).toHaveLength(6);
    const { choice, doubts } = preview.proposals.right;
    expect(doubts).toEqual([]);
    expect(choice).toMatchObject({ timeUnit: 'ms', gyroUnit: 'deg/s', accelUnit: 'g' });
    expect(choice.sensors.implement.accel).toEqual([
      'Racquet Acc X (g)',
      'Racquet Acc Y (g)',
      'Racquet Acc Z (g)',
    ]);
  });

  it.each([
    // kind, place, side and unit as a reader of the name would take them
    ['u_g*', 'gyro', 'upperArm', null, null],
    ['i_a*', 'accel', 'implement', null, null],
    ['forearm_gyr_*_rad_s', 'gyro', 'forearm', null, 'rad/s'],
    ['racket_w*', 'gyro', 'implement', null, null],
    ['lower arm omega * [deg/s]', 'gyro', 'forearm', null, 'deg/s'],
    ['accel_*_m_s2_upper_arm_l', 'accel', 'upperArm', 'left', 'm/s^2'],
    ['Acc_*_g_hand', 'accel', 'implement', null, 'g'],
    ['upperArm.angular_velocity.*', 'gyro', 'upperArm', null, null],
    ['right_wrist_acc_*_mg', 'accel', 'forearm', 'right', 'unknown'],
    ['hand_mag_*', 'other', 'implement', null, null],
    ['hand_linear_accel_*', 'other', 'implement', null, null],
    ['upper_back_gyr_*', 'gyro', 'elsewhere', null, null],
    ['radius_gyr_*', 'gyro', 'forearm', null, null],
    ['s1_*', null, null, null, null],
  ])('takes %s for %s of %s', (label, kind, place, side, unit) => {
    const [vector] = findVectors(xyz(label));
    expect(meaningOf(vector!)).toEqual({ kind, place, side, unit });
  });

  it('capital letters of axes are found, quaternions are none', () => {
    const names = ['armGyrX', 'armGyrY', 'armGyrZ', 'qw', 'qx', 'qy', 'qz', 'max', 'x', 'y'];
    expect(findVectors(names).map(({ label }) => label)).toEqual(['armGyrx/y/z']);
  });

  it('the letter of the axis may stand at either end of a name', () => {
    const columns = ['x_acc', 'y_acc', 'z_acc', 'gyr_x', 'gyr_y', 'gyr_z'];
    expect(findVectors(columns)).toEqual([
      { label: 'x/y/z_acc', columns: ['x_acc', 'y_acc', 'z_acc'] },
      { label: 'gyr_x/y/z', columns: ['gyr_x', 'gyr_y', 'gyr_z'] },
    ]);
  });

  it('names without places are taken in order, and that is said', () => {
    const labels = [
      'imu1_gyr_*',
      'imu1_acc_*',
      'imu2_gyr_*',
      'imu2_acc_*',
      'imu3_gyr_*',
      'imu3_acc_*',
    ];
    const { choice, doubts } = right(calmRows(header('time', ...labels)));
    expect(choice.sensors.forearm).toEqual({ gyro: xyz('imu2_gyr_*'), accel: xyz('imu2_acc_*') });
    expect(doubts.join()).toMatch(/do not say which gyroscope is where.*in this order/);
  });

  it('a sensor that is not there is not made up', () => {
    const labels = ['upper_arm_gyr_*', 'upper_arm_acc_*', 'hand_gyr_*', 'hand_acc_*'];
    const { choice, doubts } = right(calmRows(header('t', ...labels)));
    expect(choice.sensors.forearm).toEqual({ gyro: null, accel: null });
    expect(doubts.join()).toMatch(/No gyroscope found for: forearm/);
  });

  it.each([
    ['s', 0.005],
    ['ms', 5],
    ['us', 5000],
    [null, 3],
  ])('200 rows a second show the unit of the time: %s', (unit, step) => {
    // 3 is no step of 10 to 4000 rows a second but in milliseconds
    const { choice } = right(calmRows(header('t', 'hand_acc_*'), 1, step));
    expect(choice.timeUnit).toBe(unit ?? 'ms');
  });

  it('a counter is not the time, and a column that grows is only perhaps', () => {
    const rows = ['n,clock,gx', '1,0.00,1', '2,0.01,1', '3,0.02,1'].join('\n');
    const { choice, doubts } = right(rows);
    expect(choice.time).toBe('clock');
    expect(doubts.join()).toMatch(/'clock' is taken for the time because it grows/);
    expect(right('n,gx\n1,1\n2,1\n3,1').choice.time).toBeNull();
  });

  it('decimal commas are told before anything is read', () => {
    expect(right('t;gx;gy\n0,01;1,5;2,5\n0,02;1,5;2,5').doubts[0]).toMatch(/decimal comma/);
  });

  it('a row that lacks cells does not hide the delimiter', () => {
    const preview = previewTable('t;a;b\n0;1\n1;2;3', true);
    expect(preview).toMatchObject({ delimiter: ';', header: ['t', 'a', 'b'] });
  });

  it('a last row that is cut is left out', () => {
    const preview = previewTable('t,gx\n0,1\n1,2\n2,', false);
    expect(preview.rows).toEqual([
      ['0', '1'],
      ['1', '2'],
    ]);
  });

  it.each([
    ['nothing', '', true, /empty/],
    ['one column', 'time\n1\n2', true, /one column only/],
    ['no names', '0,1,2\n1,2,3', true, /first line holds numbers/],
    ['no line end', 'a,'.repeat(PREVIEW_CHARS / 2), false, /first line is longer/],
    ['too many columns', `${'a,'.repeat(60_000)}a\n1`, true, /60001 columns; at most 2000/],
    ['a name that is none', `${'a'.repeat(1e5)},b\n1,2`, true, /name is longer than 200/],
  ])('refuses %s, and says why', (_, text, isWhole, message) => {
    const run = () => previewTable(text, isWhole);
    expect(run).toThrow(TableError);
    expect(run).toThrow(message);
  });

  it('cells of any length and names like code are only text', () => {
    const script = '<script>alert(1)</script>';
    const text = `t,__proto__,${script}\n0,1,${'7'.repeat(1e6)}\n1,1,2`;
    const { header, rows } = previewTable(text, true);
    expect(header).toEqual(['t', '__proto__', script]);
    expect(rows[0]![2]).toHaveLength(40);
  });
});

describe('TableText', () => {
  it('puts pieces together and counts lines, wherever they are cut', () => {
    const text = new TableText();
    for (const piece of ['t,a\r', '\n0,1\n', '\n1', ',2']) text.take(piece);
    expect(text.text()).toBe('t,a\r\n0,1\n\n1,2');
    expect(text.lines).toBe(3);
  });

  it('stops at a zero byte and in a line without end', () => {
    expect(() => new TableText().take('t,a\n\0')).toThrow(/binary/);
    const text = new TableText();
    const run = () => {
      for (let i = 0; i < 100; i++) text.take('1'.repeat(10_000));
    };
    text.take('t,a\n');
    expect(run).toThrow(/Line 2 is longer/);
    expect(text.text().length).toBeLessThan(PREVIEW_CHARS + 10_000);
  });
});

const table = simulatedTable(4);
const { handedness, lengthsM, sensorFromJointM } = table.description;

function reportOf(change: object = {}, csv = oddCsv(table)) {
  const preview = previewTable(csv.slice(0, PREVIEW_CHARS), false);
  const { choice } = preview.proposals.right;
  const said = { ...choice, delimiter: preview.delimiter, handedness, lengthsM, sensorFromJointM };
  return reportTable(recordingFromCsv(csv, readCsvMapping({ ...said, ...change }, '0.1.0')));
}

describe('reportTable', () => {
  it('tells duration, samples and rate as they were simulated', () => {
    const { durationS, sensors, doubts } = reportOf();
    const { rows } = table;
    expect(durationS).toBeCloseTo(rows.at(-1)![0]!, 6);
    expect(sensors.forearm).toMatchObject({ samples: rows.length, gaps: 0, longestGapS: 0 });
    expect(sensors.forearm.rateHz).toBeCloseTo(200, 6);
    // Rest: gravity, 9.80665 m/s^2 in the simulator; the slow quarter is not all at rest.
    expect(sensors.implement.stillForceMS2).toBeCloseTo(9.81, 1);
    expect(doubts).toEqual([]);
  });

  it('finds a gap that was cut, in the sensor that has it', () => {
    // A hundred rows without one value of the forearm: 101 steps of 5 ms.
    const csv = oddCsv(table, ODD_HEADER)
      .split('\r\n')
      .map((line, row) =>
        row > 1000 && row <= 1100 ? line.split(';').with(8, '').join(';') : line,
      )
      .join('\r\n');
    const { sensors } = reportOf({}, csv);
    expect(sensors.forearm).toMatchObject({ samples: table.rows.length - 100, gaps: 1 });
    expect(sensors.forearm.longestGapS).toBeCloseTo(0.505, 6);
    expect(sensors.upperArm.gaps).toBe(0);
  });

  it.each([['g read as m/s^2', { accelUnit: 'm/s^2' }, /feels 1\.0\d? m\/s².*seems to be g/]])(
    'refuses %s',
    (_, change, message) => {
      expect(() => reportOf(change)).toThrow(TableError);
      expect(() => reportOf(change)).toThrow(message);
    },
  );

  it('refuses m/s^2 read as g', () => {
    const inMs2 = oddCsv(table, ODD_HEADER, (value, column) =>
      column === 0 ? 1000 * value : value,
    );
    const units = { accelUnit: 'g', gyroUnit: 'rad/s' };
    expect(() => reportOf(units, inMs2)).toThrow(/seems to be m\/s²/);
    // and rad/s read as deg/s is a doubt: nobody strikes so slowly
    const { doubts } = reportOf({ accelUnit: 'm/s^2', gyroUnit: 'deg/s' }, inMs2);
    expect(doubts).toEqual([expect.stringMatching(/implement never turns faster than .* deg\/s/)]);
  });

  it('poses after the end are a doubt', () => {
    expect(reportOf({ zeroRequestedAt: [1e6] }).doubts).toEqual([
      expect.stringMatching(/poses are to begin after the last row/),
    ]);
  });
});

describe('readTableMapping', () => {
  const byHand: object = JSON.parse(beside('./qmt-right-arm.mapping.json'));

  it('says what was left out, and reads back what it gave', () => {
    const mapping = readTableMapping(byHand);
    expect(mapping).toMatchObject({ delimiter: ',', timeUnit: 's', zeroRequestedAt: [40] });
    expect(mapping).not.toHaveProperty('setId');
    expect(readTableMapping(JSON.parse(JSON.stringify(mapping)))).toEqual(mapping);
  });

  it('refuses what is no mapping', () => {
    expect(() => readTableMapping([])).toThrow(ShapeError);
    expect(() => readTableMapping({ ...byHand, gyroUnit: 'rpm' })).toThrow(/gyroUnit/);
  });
});
