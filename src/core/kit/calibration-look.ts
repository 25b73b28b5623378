import { type BenchRecording, durationS, meanOver } from '../calibration/bench-recording.ts';
import { MIN_RESTS } from '../calibration/choose-rests.ts';
import {
  findInitialRest,
  INITIAL_REST_S,
  STILL_ACCEL_MS2,
  STILL_GYRO_RAD_S,
} from '../calibration/initial-rest.ts';
import { findRests, type Rest } from '../calibration/rests.ts';
import { countDistinct, missingFace } from '../calibration/sphere-coverage.ts';
import { stillSpans, varianceMagnitude } from '../calibration/stillness.ts';
import { type SensorSide, sideUp } from './sensor-sides.ts';

/** How far a bench recording has got, for the person who turns the sensor. */
export type CalibrationLook =
  | {
      readonly step: 'first-rest';
      /** Still for so long by now, and needed, s. */
      readonly stillS: number;
      readonly neededS: number;
      /** What went wrong with an earlier rest, in words; null when nothing did. */
      readonly problem: string | null;
    }
  | {
      readonly step: 'positions';
      /** Different orientations held so far, and how many are needed at least. */
      readonly positions: number;
      readonly needed: number;
      /** Sides that have been up, by name. */
      readonly sidesUsed: readonly string[];
      /** What is farthest from any so far; null when every side was up. */
      readonly next: string | null;
      /** The side up now, and whether it lies still; null while it turns. */
      readonly now: { readonly side: string; readonly isHeld: boolean } | null;
    };

/** Thresholds of the static detector looked at, as some of the search of chooseRests: table, steady and trembling hand. */
const MULTIPLIERS = [8, 64, 512];
/** The side up now is told from so many samples at the end, s. */
const NOW_S = 0.4;
/** All 26 sides look alike to the calibration; a dozen or two are enough. */
const SIDES = 26;

/**
 * Looks at a recording that is under way. The calibration itself searches finer, so that in the end it can only find
 * more.
 * @param recording not empty
 * Checked: tests/kit/calibration-look.test.ts against the plan of simulated recordings.
 */
export function lookAtCalibration(recording: BenchRecording): CalibrationLook {
  const initial = findInitialRest(recording);
  if (!initial.ok) {
    const { code, message } = initial.fault;
    const problem = code === 'initial-rest-too-short' ? null : message;
    return { step: 'first-rest', stillS: stillNowS(recording), neededS: INITIAL_REST_S, problem };
  }
  const variance = varianceMagnitude(recording.accel, recording.timeS);
  let rests: readonly Rest[] = [];
  for (const multiplier of MULTIPLIERS) {
    const threshold = multiplier * initial.accelVariance;
    const found = findRests(recording, variance, threshold, initial.gyroBias);
    if (found.length >= rests.length) rests = found;
  }
  const forces = rests.map(({ force }) => force);
  const sidesUsed = [...new Set(forces.map((force) => sideUp(force).name))];
  return {
    step: 'positions',
    positions: countDistinct(forces),
    needed: MIN_RESTS,
    sidesUsed,
    next: sidesUsed.length === SIDES || forces.length === 0 ? null : missingFace(forces),
    now: sideNow(recording, rests),
  };
}

/** How long it has lain still up to now. */
function stillNowS(recording: BenchRecording): number {
  const { timeS, gyro, accel } = recording;
  const gyroVariance = varianceMagnitude(gyro, timeS);
  const unrest = varianceMagnitude(accel, timeS).map((a, i) =>
    Math.max(a / STILL_ACCEL_MS2 ** 2, gyroVariance[i]! / STILL_GYRO_RAD_S ** 2),
  );
  const last = stillSpans(recording, unrest, 1).at(-1);
  if (last === undefined) return 0;
  // the window of the detector does not reach to the end
  const isNow = timeS.at(-1)! - timeS[last.end - 1]! < 2 * NOW_S;
  return isNow ? durationS(recording, last) : 0;
}

function sideNow(
  recording: BenchRecording,
  rests: readonly Rest[],
): { side: SensorSide['name']; isHeld: boolean } | null {
  const { timeS, accel, gyro } = recording;
  const endS = timeS.at(-1)!;
  const span = { start: timeS.findIndex((time) => time >= endS - NOW_S), end: timeS.length };
  const turning = Math.hypot(...meanOver(gyro, span));
  const lastHeldS = rests.length === 0 ? 0 : timeS[rests.at(-1)!.span.end - 1]!;
  const isHeld = endS - lastHeldS < 2 * NOW_S;
  if (turning > TURNING_RAD_S && !isHeld) return null;
  return { side: sideUp(meanOver(accel, span)).name, isHeld };
}

/** Faster than a hand that means to hold still. */
const TURNING_RAD_S = 0.3;
