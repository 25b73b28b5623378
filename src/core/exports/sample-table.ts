import type { Segment } from '../arm/segments.ts';
import type { SetRecord } from '../recording/set-record.ts';
import { type SensorSample, sensorSamples } from './sensor-samples.ts';
import { type ColumnOf, columnsOver, type Table, tableOf } from './table.ts';

const { number, truth } = columnsOver<SensorSample>();

/** Columns of the table of raw samples, in order. */
export const SAMPLE_COLUMNS: readonly ColumnOf<SensorSample>[] = [
  number(
    'time_s',
    's',
    'Since the start of the set, by the clock of this device.',
    ({ timeUs }) => timeUs / 1e6,
  ),
  ...['x', 'y', 'z'].map((axis, i) =>
    number(
      `gyro_${axis}_rad_s`,
      'rad/s',
      'Angular rate in the frame of the sensor, as the sensor says it: no bias removed, no bench calibration.',
      ({ gyro }) => gyro[i]!,
    ),
  ),
  ...['x', 'y', 'z'].map((axis, i) =>
    number(
      `accel_${axis}_m_s2`,
      'm/s^2',
      'Specific force in the frame of the sensor, as the sensor says it: no bench calibration.',
      ({ accel }) => accel[i]!,
    ),
  ),
  truth('clipped', 'Some axis was at the end of its range.', ({ clipped }) => clipped),
];

/** All samples of one sensor, one row each; a gap shows as a jump of time_s. */
export function sampleTable(records: Iterable<SetRecord>, segment: Segment): Table {
  return tableOf('sample', SAMPLE_COLUMNS, sensorSamples(records, segment));
}
