import { dsvFormat } from 'd3-dsv';
import { type PerSegment, SEGMENTS } from '../arm/segments.ts';
import { CsvError } from './csv-error.ts';
import type { CsvMapping } from './csv-mapping.ts';
import { nearestNames } from './nearest-names.ts';

/** The mapped part of a table in SI units, as columns. */
export interface CsvColumns {
  /** Time of the first row, in the unit of the time column. */
  readonly startTime: number;
  /** Whole microseconds since the first row, strictly ascending, shape (rows). */
  readonly timeUs: Float64Array;
  /** gx gy gz ax ay az, rad/s and m/s^2, shape (rows x 6); NaN where the table has no value. */
  readonly values: PerSegment<Float64Array>;
}

const NUMBER = /^\s*[+-]?(\d+\.?\d*|\.\d+)(e[+-]?\d+)?\s*$/i;
/** How tables write "no value": nothing, or NaN in any case. */
const NO_VALUE = /^\s*(nan)?\s*$/i;

/**
 * Reads the mapped columns of a table with one header line.
 * @param text the whole table; columns that are not mapped are ignored
 * @returns SI columns, times counted from the first row
 * @throws CsvError naming line and column; lines count from 1, the header included
 */
export function readCsvColumns(text: string, mapping: CsvMapping): CsvColumns {
  const times: number[] = [];
  const values = SEGMENTS.map((): number[] => []);
  let header: readonly string[] = [];
  let places: Places | null = null;
  let startTime = 0;
  dsvFormat(mapping.delimiter).parseRows(text, (cells, row) => {
    if (places === null) {
      // A byte order mark would become part of the first name.
      header = cells.map((name) => name.replace(/^\ufeff/, '').trim());
      places = findColumns(header, mapping);
      return null;
    }
    if (cells.length === 1 && cells[0]!.trim() === '') return null;
    const line = row + 1;
    if (cells.length !== header.length) {
      throw new CsvError(
        'ragged-row',
        `Line ${line} has ${cells.length} cells but the header has ${header.length}. Mend the line, or set "delimiter" in the mapping.`,
      );
    }
    const time = readCell(cells, places.time, header, line);
    if (times.length === 0) startTime = time;
    const timeUs = Math.round((time - startTime) * mapping.timeUnitUs);
    checkTime(timeUs, times, line, mapping.timeColumn);
    times.push(timeUs);
    places.sensors.forEach((axes, sensor) => {
      axes.forEach((place, axis) => {
        const unit = axis < 3 ? mapping.gyroUnitRadS : mapping.accelUnitMS2;
        const hasValue = !NO_VALUE.test(cells[place]!);
        values[sensor]!.push(hasValue ? unit * readCell(cells, place, header, line) : Number.NaN);
      });
    });
    return null;
  });
  const [upperArm, forearm, implement] = values.map((column) => Float64Array.from(column));
  return {
    startTime,
    timeUs: Float64Array.from(times),
    values: { upperArm: upperArm!, forearm: forearm!, implement: implement! },
  };
}

/** Places of the mapped columns in a row. */
interface Places {
  readonly time: number;
  readonly sensors: readonly (readonly number[])[];
}

function findColumns(header: readonly string[], mapping: CsvMapping): Places {
  const find = (name: string): number => {
    const place = header.indexOf(name);
    if (place < 0) {
      throw new CsvError(
        'missing-column',
        `The table has no column '${name}'. Nearest: ${nearestNames(name, header, 3).join(', ')}. Correct the mapping, or its "delimiter" if these look joined.`,
      );
    }
    return place;
  };
  return {
    time: find(mapping.timeColumn),
    sensors: SEGMENTS.map((segment) => {
      const { gyro, accel } = mapping.sensors[segment];
      return [...gyro, ...accel].map(find);
    }),
  };
}

function readCell(
  cells: readonly string[],
  place: number,
  header: readonly string[],
  line: number,
): number {
  const cell = cells[place]!;
  const value = NUMBER.test(cell) ? Number(cell) : Number.NaN;
  if (!Number.isFinite(value)) {
    throw new CsvError(
      'not-a-number',
      `Line ${line}, column '${header[place]}': '${cell.slice(0, 40)}' is not a number. Use a decimal point, or 'nan' where there is no value.`,
    );
  }
  return value;
}

function checkTime(timeUs: number, times: readonly number[], line: number, column: string): void {
  const last = times.at(-1);
  if (last !== undefined && timeUs <= last) {
    throw new CsvError(
      'time-not-forward',
      `Line ${line}: the time in '${column}' does not move forward (by whole microseconds). Sort the rows, remove doubled ones, or check "timeUnit".`,
    );
  }
}
