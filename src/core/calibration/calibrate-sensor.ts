import { STANDARD_GRAVITY } from '../maths/angles.ts';
import { UPPER } from './accelerometer-fit.ts';
import { type BenchRecording, checkRecording, columnsOf } from './bench-recording.ts';
import { type Refusal, refuse } from './calibration-fault.ts';
import { type ChosenRests, chooseRests } from './choose-rests.ts';
import { fitGyroscope, GYRO_PARAMETERS, type Turn } from './gyroscope-fit.ts';
import { findInitialRest, type InitialRest } from './initial-rest.ts';
import type { Rest } from './rests.ts';
import type { RobustFit } from './robust-fit.ts';
import type { SensorCalibration, TriadCalibration } from './sensor-calibration.ts';
import { turnsBetween } from './turns.ts';

/** A calibration, or a named reason why there is none. */
export type CalibrationResult =
  | { readonly ok: true; readonly calibration: SensorCalibration }
  | Refusal;

/** This near its end of the range a sample may have been cut off. */
const CLIPPED = 0.999;
/** Twelve parameters from two independent residuals each: with fewer turns hardly any are left over. */
const MIN_TURNS = 10;
/** Most standard error of a matrix element per radian of residual; 0.2 to 0.7 when all axes are turned. */
const MOST_GYRO_COFACTOR = 1;
/** No part is this far from its data sheet; a wrong range setting is (a factor of two). */
const MOST_DEVIATION = 0.1;
/** A calibration worse than this is hardly better than none, fraction. */
const MOST_SE = 0.003;

/**
 * Bench calibration of one sensor from one recording: a rest of 20 s or more on a table, then turns by hand
 * into at least 12, better 36 orientations all around, with rests of 2 to 4 s.
 * Accelerometer from the magnitude of gravity at rest; gyroscope bias from the first rest, its matrix from
 * the direction of gravity before and after each turn. A wrong `localGravityMS2` scales the accelerometer,
 * nothing else.
 * @param localGravityMS2 m/s^2; 9.780 at the equator to 9.832 at the poles
 * @throws RangeError when the columns do not belong together or contain NaN
 * Source: Tedaldi, Pretto & Menegatti 2014, "A robust and easy to implement method for IMU calibration
 * without external equipments", ICRA, doi 10.1109/ICRA.2014.6907297.
 * Checked: tests/calibration/calibrate-sensor.test.ts against simulated sensors.
 */
export function calibrateSensor(
  recording: BenchRecording,
  localGravityMS2 = STANDARD_GRAVITY,
): CalibrationResult {
  checkRecording(recording);
  const initial = findInitialRest(recording);
  if (!initial.ok) return initial;
  const chosen = chooseRests(recording, initial, localGravityMS2);
  if (!chosen.ok) return chosen;
  const accelerometer = accelerometerOf(chosen.accelerometer);
  const turns = turnsBetween(recording, chosen.accelerometer.kept, accelerometer);
  const unusable = refuseSamples(recording, chosen, turns);
  if (unusable !== null) return unusable;
  const gyroFit = fitGyroscope(recording, turns, initial.gyroBias);
  const untold = refuseUndetermined(gyroFit);
  if (untold !== null) return untold;
  const gyroscope = gyroscopeOf(gyroFit, initial);
  const poor = refusePoor(accelerometer, gyroscope);
  if (poor !== null) return poor;
  const rests = chosen.accelerometer.kept.length;
  const calibration = {
    accelerometer,
    gyroscope,
    localGravityMS2,
    rests,
    restsSetAside: chosen.found.length - rests,
    turns: gyroFit.kept.length,
    turnsSetAside: turns.length - gyroFit.kept.length,
  };
  return { ok: true, calibration };
}

function accelerometerOf(robust: RobustFit<Rest>): TriadCalibration {
  const { parameters, sumOfSquares } = robust.fit;
  const errors = standardErrors(robust);
  const matrix = new Array<number>(9).fill(0);
  const matrixSE = new Array<number>(9).fill(0);
  UPPER.forEach((at, k) => {
    matrix[at] = parameters[k]!;
    matrixSE[at] = errors[k]!;
  });
  return {
    matrix,
    bias: [...parameters.subarray(6)],
    matrixSE,
    biasSE: errors.slice(6),
    residualRms: Math.sqrt(sumOfSquares / robust.kept.length),
  };
}

function gyroscopeOf(robust: RobustFit<Turn>, initial: InitialRest): TriadCalibration {
  return {
    matrix: [...robust.fit.parameters.subarray(0, 9)],
    bias: [...initial.gyroBias],
    matrixSE: standardErrors(robust).slice(0, 9),
    biasSE: [...initial.gyroBiasSE],
    residualRms: Math.sqrt(robust.fit.sumOfSquares / robust.kept.length),
  };
}

/** With few residuals left over their scatter is itself uncertain: SD of Student's t instead of the normal. */
function standardErrors({ fit, variance, freedom }: RobustFit<unknown>): number[] {
  const n = fit.parameters.length;
  const widened = (variance * freedom) / (freedom - 2);
  return Array.from(fit.parameters, (_, k) => Math.sqrt(widened * fit.cofactor![k * (n + 1)]!));
}

function refuseSamples(
  recording: BenchRecording,
  { accelerometer }: ChosenRests,
  turns: readonly Turn[],
): Refusal | null {
  const { accel, gyro, timeS } = recording;
  for (const { span } of accelerometer.kept) {
    const at = firstBeyond(
      columnsOf(accel),
      CLIPPED * recording.accelRangeMS2,
      span.start,
      span.end,
    );
    if (at >= 0) {
      return refuse(
        'clipped',
        `The accelerometer is at the end of its range while at rest (${(timeS[at]! - timeS[0]!).toFixed(1)} s). Set a range of 2 g or more; if it is, the sensor is faulty.`,
      );
    }
  }
  for (const { from, to } of turns) {
    const at = firstBeyond(columnsOf(gyro), CLIPPED * recording.gyroRangeRadS, from, to);
    if (at >= 0) {
      return refuse(
        'clipped',
        `The gyroscope reached the end of its range ${(timeS[at]! - timeS[0]!).toFixed(1)} s after the start. Turn more slowly, about half a turn per second, or set a wider range.`,
      );
    }
  }
  if (turns.length >= MIN_TURNS) return null;
  return refuse(
    'too-few-turns',
    `Only ${turns.length} turns arrived without lost samples; ${MIN_TURNS} are needed. Keep the sensor close to the receiver and record again.`,
  );
}

/** First sample of a stretch with an element at or beyond the limit, or -1. */
function firstBeyond(
  columns: readonly Float64Array[],
  limit: number,
  start: number,
  end: number,
): number {
  for (let i = start; i < end; i++) {
    if (columns.some((column) => Math.abs(column[i]!) >= limit)) return i;
  }
  return -1;
}

function refuseUndetermined({ fit }: RobustFit<Turn>): Refusal | null {
  const { cofactor, converged } = fit;
  if (cofactor === null || !converged) {
    return refuse('turns-missing', 'The turns do not show every axis. Turn about all three axes.');
  }
  const errors = Array.from(fit.parameters.subarray(0, 9), (_, k) =>
    Math.sqrt(cofactor[k * (GYRO_PARAMETERS + 1)]!),
  );
  const worst = errors.indexOf(Math.max(...errors));
  if (errors[worst]! <= MOST_GYRO_COFACTOR) return null;
  const axis = ['x', 'y', 'z'][worst % 3]!;
  return refuse(
    'turns-missing',
    `The turns hardly show the ${axis} axis of the gyroscope. Turn more about ${axis} while it lies level, by a quarter or half turn between rests.`,
  );
}

function refusePoor(accelerometer: TriadCalibration, gyroscope: TriadCalibration): Refusal | null {
  for (const [name, { matrix }] of Object.entries({ accelerometer, gyroscope })) {
    const off = Math.max(...matrix.map((value, k) => Math.abs(value - +(k % 4 === 0))));
    if (off > MOST_DEVIATION) {
      return refuse(
        'implausible',
        `The ${name} would be ${(100 * off).toFixed(0)} % off. Check that its range setting is the one the sensor really uses, then record again.`,
      );
    }
  }
  for (const [name, { matrixSE }] of Object.entries({ accelerometer, gyroscope })) {
    const se = Math.max(...matrixSE);
    if (se > MOST_SE) {
      return refuse(
        'too-uncertain',
        `The ${name} is determined to ${(100 * se).toFixed(1)} % only. Record again with more and longer rests, lying or leaning on something rather than held free.`,
      );
    }
  }
  return null;
}
