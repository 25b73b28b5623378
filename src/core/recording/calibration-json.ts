import type { SensorCalibration, TriadCalibration } from '../calibration/sensor-calibration.ts';
import { asList, asNumber, asObject, asText, type JsonObject, ShapeError } from './json-shape.ts';
import type { CalibratedSensor } from './set-description.ts';

/** More sensors than any set or kit has. */
const MAX_SENSORS = 64;
const SERIAL = /^[0-9a-f]{16}$/;
/** Beyond any part that works: matrix elements, and biases in rad/s and m/s^2. */
const MAX_ELEMENT = 2;
const MAX_BIAS = 10;
/** Of rests and turns. */
const MAX_COUNT = 1e6;

/**
 * Checks bench calibrations that came from outside.
 * @param value parsed JSON
 * @param where name of the field for the message
 * @returns new objects with the known fields only
 * @throws ShapeError naming the first field that is missing or wrong, or a sensor that is there twice
 */
export function readCalibrations(value: unknown, where: string): readonly CalibratedSensor[] {
  const sensors = asList(value, where, MAX_SENSORS).map((item, i) => {
    const at = `${where}[${i}]`;
    const from = asObject(item, at);
    const serial = asText(from.serial, `${at}.serial`, 16);
    if (!SERIAL.test(serial)) {
      throw new ShapeError(`${at}.serial must be 16 lower-case hex digits, found '${serial}'`);
    }
    return { serial, calibration: readCalibration(from.calibration, `${at}.calibration`) };
  });
  const twice = sensors.find(({ serial }, i) => sensors.findIndex((s) => s.serial === serial) < i);
  if (twice !== undefined) {
    throw new ShapeError(`${where} has sensor ${twice.serial} twice; keep the newer calibration`);
  }
  return sensors;
}

function readCalibration(value: unknown, where: string): SensorCalibration {
  const from = asObject(value, where);
  const count = (field: keyof SensorCalibration) =>
    asNumber(from[field], `${where}.${field}`, 0, MAX_COUNT);
  return {
    accelerometer: readTriad(from.accelerometer, `${where}.accelerometer`),
    gyroscope: readTriad(from.gyroscope, `${where}.gyroscope`),
    localGravityMS2: asNumber(from.localGravityMS2, `${where}.localGravityMS2`, 9, 10),
    rests: count('rests'),
    restsSetAside: count('restsSetAside'),
    turns: count('turns'),
    turnsSetAside: count('turnsSetAside'),
  };
}

function readTriad(value: unknown, where: string): TriadCalibration {
  const from = asObject(value, where);
  return {
    matrix: readNumbers(from, 'matrix', where, 9, -MAX_ELEMENT, MAX_ELEMENT),
    bias: readNumbers(from, 'bias', where, 3, -MAX_BIAS, MAX_BIAS),
    matrixSE: readNumbers(from, 'matrixSE', where, 9, 0, MAX_ELEMENT),
    biasSE: readNumbers(from, 'biasSE', where, 3, 0, MAX_BIAS),
    residualRms: asNumber(from.residualRms, `${where}.residualRms`, 0, MAX_BIAS),
  };
}

function readNumbers(
  from: JsonObject,
  field: keyof TriadCalibration,
  where: string,
  length: number,
  min: number,
  max: number,
): readonly number[] {
  const at = `${where}.${field}`;
  const list = asList(from[field], at, length);
  if (list.length !== length) {
    throw new ShapeError(`${at} must have ${length} numbers, found ${list.length}`);
  }
  return list.map((value, i) => asNumber(value, `${at}[${i}]`, min, max));
}
