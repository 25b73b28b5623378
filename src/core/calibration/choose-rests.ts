import type { LeastSquaresFit } from '../maths/levenberg-marquardt.ts';
import { dot } from '../maths/vector.ts';
import { ACCEL_PARAMETERS, fitAccelerometer } from './accelerometer-fit.ts';
import { type BenchRecording, durationS } from './bench-recording.ts';
import { type Refusal, refuse } from './calibration-fault.ts';
import type { InitialRest } from './initial-rest.ts';
import { findRests, MIN_REST_S, type Rest } from './rests.ts';
import type { RobustFit } from './robust-fit.ts';
import { countDistinct, missingFace } from './sphere-coverage.ts';
import { stillSpans, varianceMagnitude } from './stillness.ts';

/** The paper recommends 36 to 50; with twelve, nine parameters are still tested by three left over. */
export const MIN_RESTS = 12;
/**
 * Thresholds tried, in variances of the initial rest: a table needs the first, a trembling hand the last
 * (an SD 45 times that of the sensor's noise).
 */
const MULTIPLIERS = [2, 4, 8, 16, 32, 64, 128, 256, 512, 1024, 2048];
/** A spell shorter than a rest but clearly meant as one, s. */
const HINT_OF_REST_S = 0.3;
/**
 * Most variance of a parameter in units of (residual / g)^2 per rest. Rests spread evenly over the sphere
 * give 15 for the cross-axis elements, 6 for the scales, 3 for the bias over g.
 */
const MOST_INFLATION = 60;

/** The rests of the threshold that calibrates best, and its fit. */
export interface ChosenRests {
  readonly ok: true;
  /** Every rest found, in order of time; `accelerometer.kept` are those that agree. */
  readonly found: readonly Rest[];
  readonly accelerometer: RobustFit<Rest>;
}

/**
 * Searches the threshold of the static detector that calibrates the accelerometer best.
 * Best is the least summed variance of the matrix: as in the paper the residual decides, but a threshold
 * that finds few rests cannot win by fitting them closely.
 * Source: Tedaldi, Pretto & Menegatti 2014, doi 10.1109/ICRA.2014.6907297.
 */
export function chooseRests(
  recording: BenchRecording,
  initial: InitialRest,
  gravityMS2: number,
): ChosenRests | Refusal {
  const variance = varianceMagnitude(recording.accel, recording.timeS);
  let best: ChosenRests | null = null;
  let most: readonly Rest[] = [];
  for (const multiplier of MULTIPLIERS) {
    const threshold = multiplier * initial.accelVariance;
    const found = findRests(recording, variance, threshold, initial.gyroBias);
    const different = distinct(found);
    if (different > distinct(most)) most = found;
    if (different < MIN_RESTS) continue;
    const accelerometer = fitAccelerometer(found, gravityMS2);
    if (best === null || matrixVariance(accelerometer) < matrixVariance(best.accelerometer)) {
      best = { ok: true, found, accelerometer };
    }
  }
  if (best === null) return refuseFew(recording, variance, initial, most);
  const { fit, kept } = best.accelerometer;
  if (inflation(fit, kept) > MOST_INFLATION) {
    return refuseFaces('The rests leave part of the sphere out.', kept);
  }
  return best;
}

function distinct(rests: readonly Rest[]): number {
  return countDistinct(rests.map((rest) => rest.force));
}

function matrixVariance({ fit, variance }: RobustFit<Rest>): number {
  if (fit.cofactor === null) return Number.POSITIVE_INFINITY;
  let sum = 0;
  for (let i = 0; i < 6; i++) sum += variance * fit.cofactor[i * (ACCEL_PARAMETERS + 1)]!;
  return sum;
}

/** Variance of the worst parameter, see MOST_INFLATION. */
function inflation({ cofactor }: LeastSquaresFit, rests: readonly Rest[]): number {
  if (cofactor === null) return Number.POSITIVE_INFINITY;
  // the size of the forces as read, which a wrong range setting makes a multiple of g
  const sumOfSquares = rests.reduce((sum, { force }) => sum + dot(force, force), 0);
  const perParameter = Array.from({ length: ACCEL_PARAMETERS }, (_, i) => {
    return cofactor[i * (ACCEL_PARAMETERS + 1)]! * (i < 6 ? sumOfSquares : rests.length);
  });
  return Math.max(...perParameter);
}

/** Why no threshold found enough rests: all in the same orientations, too short, or not there. */
function refuseFew(
  recording: BenchRecording,
  variance: Float64Array,
  initial: InitialRest,
  most: readonly Rest[],
): Refusal {
  const different = distinct(most);
  if (most.length >= MIN_RESTS) {
    return refuseFaces(`The rests show ${different} orientations; ${MIN_RESTS} are needed.`, most);
  }
  // under the highest threshold a rest is one spell, however much the hand trembles
  const highest = Math.max(...MULTIPLIERS) * initial.accelVariance;
  const spells = stillSpans(recording, variance, highest);
  const hints = spells.filter((span) => durationS(recording, span) >= HINT_OF_REST_S);
  if (hints.length >= MIN_RESTS) {
    return refuse(
      'rests-too-short',
      `Only ${most.length} of ${hints.length} rests were long and still enough. Rest 2 to 4 s each time, the hand leaning on something: ${MIN_REST_S} s must be left between settling and the next turn.`,
    );
  }
  return refuse(
    'too-few-rests',
    `${different} rests in different orientations were found; at least ${MIN_RESTS} are needed, 36 are good. Turn, rest 2 to 4 s, turn again.`,
  );
}

function refuseFaces(what: string, rests: readonly Rest[]): Refusal {
  const next = missingFace(rests.map((rest) => rest.force));
  return refuse(
    'faces-missing',
    `${what} Turn the sensor onto faces, edges and corners not yet used too: next with ${next} up.`,
  );
}
