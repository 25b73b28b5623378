import type { Quaternion } from '../maths/quaternion.ts';
import type { Vector3 } from '../maths/vector.ts';
import { type AhrsMethod, type AhrsState, createAhrs, stepAhrs } from './ahrs-filter.ts';
import {
  createVqf,
  forgetOrientation,
  stepVqf,
  type VqfCoefficients,
  type VqfState,
  vqfCoefficients,
} from './vqf-filter.ts';

/** Ways to turn gyroscope and accelerometer into an orientation. `vqf` is ours and the default. */
export type FilterMethod = 'vqf' | AhrsMethod;

/** A running orientation filter of one sensor. Only `vqf` is plain data that can be saved and resumed. */
export type OrientationFilter =
  | { readonly method: 'vqf'; readonly coefficients: VqfCoefficients; readonly state: VqfState }
  | { readonly method: AhrsMethod; readonly state: AhrsState };

/** @param intervalS nominal sampling interval, seconds */
export function createFilter(method: FilterMethod, intervalS: number): OrientationFilter {
  if (method !== 'vqf') return { method, state: createAhrs(method, intervalS) };
  const coefficients = vqfCoefficients(intervalS);
  return { method, coefficients, state: createVqf(coefficients) };
}

/**
 * One sample.
 * @param gyr rad/s @param acc specific force, m/s^2; both sensor frame, shape (3)
 * @param dtS true time since the previous sample, seconds @param useAccel false inside a contact shock
 * @returns qEarthFromSensor (earth: z up, heading arbitrary), the filter's own array
 */
export function stepFilter(
  filter: OrientationFilter,
  gyr: Vector3,
  acc: Vector3,
  dtS: number,
  useAccel: boolean,
): Quaternion {
  if (filter.method === 'vqf') stepVqf(filter.coefficients, filter.state, gyr, acc, dtS, useAccel);
  else stepAhrs(filter.state, gyr, acc, dtS, useAccel);
  return filter.state.qEarthFromSensor;
}

/**
 * After missing samples the orientation begins anew; the bias stays. The `ahrs` methods cannot, they find back
 * by their gain.
 */
export function restartFilter(filter: OrientationFilter): void {
  if (filter.method === 'vqf') forgetOrientation(filter.coefficients, filter.state);
}

/**
 * Takes the gyroscope bias the filter believes off one row of a column of rates in place; rad/s, sensor frame.
 * @param column shape (3 n) @param at where the row begins
 */
export function subtractBias(filter: OrientationFilter, column: Float64Array, at: number): void {
  if (filter.method !== 'vqf') return;
  const bias = filter.state.biasRadS;
  for (let i = 0; i < 3; i++) column[at + i] = column[at + i]! - bias[i]!;
}
