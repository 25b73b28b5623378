import type { PerSegment } from '../arm/segments.ts';
import { type AxisColumns, type CsvMapping, readCsvMapping } from './csv-mapping.ts';
import { asObject } from './json-shape.ts';
import type { SetDescription } from './set-description.ts';

export type TimeUnit = 's' | 'ms' | 'us';
export type GyroUnit = 'rad/s' | 'deg/s';
export type AccelUnit = 'm/s^2' | 'g';

/** A mapping as JSON with every field said: recorded-streams/FORMAT.md, "CSV tables". Lengths in metres. */
export interface TableMapping
  extends Pick<
    SetDescription,
    | 'player'
    | 'handedness'
    | 'lengthsM'
    | 'sensorFromJointM'
    | 'implement'
    | 'ball'
    | 'sweetSpotBand'
    | 'scoreSteps'
  > {
  readonly delimiter: CsvMapping['delimiter'];
  readonly time: string;
  readonly timeUnit: TimeUnit;
  readonly gyroUnit: GyroUnit;
  readonly accelUnit: AccelUnit;
  readonly sensors: PerSegment<{ readonly gyro: AxisColumns; readonly accel: AxisColumns }>;
  /** In the unit and on the clock of the time column. */
  readonly zeroRequestedAt: readonly number[];
  /** ISO date. Absent: when the file was last changed. */
  readonly startedAt?: string;
}

/**
 * Checks a mapping that was saved or written by hand, and says what it left out. Name and date of a set are dropped:
 * the same mapping serves many tables.
 * @param value parsed JSON
 * @throws ShapeError naming the first field that is missing or wrong
 * Checked: tests/recording/table-preview.test.ts
 */
export function readTableMapping(value: unknown): TableMapping {
  const { delimiter, timeColumn, sensors, zeroRequestedAt, description } = readCsvMapping(
    value,
    '',
  );
  const from = asObject(value, 'the mapping');
  return {
    delimiter,
    time: timeColumn,
    // readCsvMapping has checked these words.
    timeUnit: (from.timeUnit ?? 's') as TimeUnit,
    gyroUnit: from.gyroUnit as GyroUnit,
    accelUnit: from.accelUnit as AccelUnit,
    sensors,
    zeroRequestedAt,
    player: description.player,
    handedness: description.handedness,
    lengthsM: description.lengthsM,
    sensorFromJointM: description.sensorFromJointM,
    implement: description.implement,
    ball: description.ball,
    sweetSpotBand: description.sweetSpotBand,
    scoreSteps: description.scoreSteps,
  };
}
