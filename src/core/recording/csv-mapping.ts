import { type PerSegment, SEGMENTS } from '../arm/segments.ts';
import { readDescription } from './description-json.ts';
import { asList, asNumber, asObject, asOneOf, asText, ShapeError } from './json-shape.ts';
import type { SetDescription } from './set-description.ts';

/** Names of the three columns of a vector, x y z. */
export type AxisColumns = readonly [string, string, string];

/** How a table's columns become three sensors; as JSON it is written beside the table. */
export interface CsvMapping {
  readonly delimiter: ',' | ';' | '\t';
  /** Name of the time column and microseconds per unit of it. */
  readonly timeColumn: string;
  readonly timeUnitUs: number;
  /** rad/s and m/s^2 per unit in the table. */
  readonly gyroUnitRadS: number;
  readonly accelUnitMS2: number;
  readonly sensors: PerSegment<{ readonly gyro: AxisColumns; readonly accel: AxisColumns }>;
  /** When the two poses begin, in the unit and on the clock of the time column. */
  readonly zeroRequestedAt: readonly number[];
  readonly description: SetDescription;
}

const TIME_UNITS_US = { s: 1e6, ms: 1e3, us: 1 } as const;
const GYRO_UNITS_RAD_S = { 'rad/s': 1, 'deg/s': Math.PI / 180 } as const;
/** Standard gravity: 3rd CGPM, 1901. */
const ACCEL_UNITS_MS2 = { 'm/s^2': 1, g: 9.80665 } as const;
const MAX_NAME = 200;

/**
 * Checks a mapping written by a person.
 *
 * Required: `time`, `gyroUnit` ('rad/s', 'deg/s'), `accelUnit` ('m/s^2', 'g'), `sensors` with
 * `gyro` and `accel` for each segment (three column names, or the part before 'x', 'y', 'z'),
 * `lengthsM`, `sensorFromJointM`.
 * Optional: `timeUnit` ('s', 'ms', 'us'; default 's'), `delimiter` (default ','),
 * `zeroRequestedAt` (list of times; default none), `startedAt` (ISO date; default 1970),
 * `setId` ('imported'), `player` ('unnamed'), `handedness` ('right'), `implement` and `ball`
 * ('unknown'), `sweetSpotBand` (null), `scoreSteps` (none).
 * @param value parsed JSON
 * @param programVersion version of this program, for the description
 * @throws ShapeError naming the first field that is missing or wrong
 */
export function readCsvMapping(value: unknown, programVersion: string): CsvMapping {
  const from = asObject(value, 'the mapping');
  const sensors = asObject(from.sensors, 'sensors');
  const [upperArm, forearm, implement] = SEGMENTS.map((segment) => {
    const sensor = asObject(sensors[segment], `sensors.${segment}`);
    return {
      gyro: readAxes(sensor.gyro, `sensors.${segment}.gyro`),
      accel: readAxes(sensor.accel, `sensors.${segment}.accel`),
    };
  }) as [SensorColumns, SensorColumns, SensorColumns];
  return {
    delimiter: asOneOf(from.delimiter ?? ',', 'delimiter', [',', ';', '\t']),
    timeColumn: asText(from.time, 'time', MAX_NAME),
    timeUnitUs: readUnit(from.timeUnit ?? 's', 'timeUnit', TIME_UNITS_US),
    gyroUnitRadS: readUnit(from.gyroUnit, 'gyroUnit', GYRO_UNITS_RAD_S),
    accelUnitMS2: readUnit(from.accelUnit, 'accelUnit', ACCEL_UNITS_MS2),
    sensors: { upperArm, forearm, implement },
    zeroRequestedAt: asList(from.zeroRequestedAt ?? [], 'zeroRequestedAt', 100).map((time, i) =>
      asNumber(time, `zeroRequestedAt[${i}]`, -Number.MAX_VALUE, Number.MAX_VALUE),
    ),
    description: readDescription({
      setId: from.setId ?? 'imported',
      startedAtMs: readDate(from.startedAt ?? '1970-01-01'),
      programVersion,
      source: 'imported',
      player: from.player ?? 'unnamed',
      handedness: from.handedness ?? 'right',
      lengthsM: from.lengthsM,
      sensorFromJointM: from.sensorFromJointM,
      implement: from.implement ?? 'unknown',
      ball: from.ball ?? 'unknown',
      sweetSpotBand: from.sweetSpotBand ?? null,
      scoreSteps: from.scoreSteps ?? [],
    }),
  };
}

type SensorColumns = CsvMapping['sensors']['upperArm'];

function readAxes(value: unknown, where: string): AxisColumns {
  if (typeof value === 'string') {
    const prefix = asText(value, where, MAX_NAME);
    return [`${prefix}x`, `${prefix}y`, `${prefix}z`];
  }
  if (!Array.isArray(value) || value.length !== 3) {
    throw new ShapeError(`${where} must be three column names, or the part before x, y and z`);
  }
  const [x, y, z] = value.map((name, i) => asText(name, `${where}[${i}]`, MAX_NAME));
  return [x!, y!, z!];
}

function readUnit<T extends string>(
  value: unknown,
  where: string,
  units: Readonly<Record<T, number>>,
): number {
  return units[asOneOf(value, where, Object.keys(units) as T[])];
}

function readDate(value: unknown): number {
  const text = asText(value, 'startedAt', 40);
  const ms = Date.parse(text);
  if (Number.isNaN(ms)) {
    throw new ShapeError(`startedAt must be a date such as 2024-05-31T10:00:00Z, found '${text}'`);
  }
  return ms;
}
