import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { gunzipSync } from 'node:zlib';
import { describe, expect, it } from 'vitest';
import { conjugate, multiply, quaternion } from '../../src/core/maths/quaternion.ts';
import { vector3 } from '../../src/core/maths/vector.ts';
import { createFilter, type FilterMethod, stepFilter } from '../../src/core/orientation/filter.ts';

// BROAD (Laidig, Caruso, Cereatti & Seel 2021, Data 6(7):72, CC BY 4.0): a sensor beside optical reference.
// The files are not part of this repository: REACH_FUNNEL_DATA names the folder that holds "broad".
const folder = join(
  process.env.REACH_FUNNEL_DATA ?? fileURLToPath(new URL('../../../shared/data', import.meta.url)),
  'broad',
);
const available = existsSync(folder);
const RATE_HZ = 285.714;
const COLUMNS = 18;

// Inclination in degrees by the reference implementation. 02 and 18: reference.md F (version 2.1.1; that run used the
// magnetometer too, which corrects the heading only). 08: Python package 2.1.2 on these files, 6-axis, numpy 2.4.6.
const TRIALS = [
  { name: '02_undisturbed_slow_rotation_B', rows: 32280, referenceDeg: 0.4288 },
  { name: '08_undisturbed_fast_rotation_with_breaks_A', rows: 31417, referenceDeg: 1.7627 },
  { name: '18_undisturbed_fast_translation_with_breaks_B', rows: 25810, referenceDeg: 0.6136 },
] as const;
const METHODS = ['vqf', 'madgwick', 'mahony'] as const;

/** All numbers of a trial, row after row. */
function readTrial(name: string): Float64Array {
  const text = gunzipSync(readFileSync(join(folder, `${name}.csv.gz`))).toString('latin1');
  const lines = text.trimEnd().split('\n');
  const numbers = new Float64Array(COLUMNS * (lines.length - 1));
  for (let row = 1; row < lines.length; row++) {
    const cells = lines[row]!.split(',');
    for (let i = 0; i < COLUMNS; i++) numbers[COLUMNS * (row - 1) + i] = Number(cells[i]);
  }
  return numbers;
}

/**
 * Root mean square of the inclination error, degrees: q_err = q_imu q_ref*, 2 acos sqrt(w^2 + z^2), over rows of
 * movement with a reference (metric of the BROAD authors, reference.md F).
 */
function inclinationRmse(
  trial: Float64Array,
  method: FilterMethod,
): { readonly rmseDeg: number; readonly rows: number } {
  const filter = createFilter(method, 1 / RATE_HZ);
  const error = quaternion();
  let squares = 0;
  let rows = 0;
  const gyr = vector3();
  const acc = vector3();
  for (let at = 0; at < trial.length; at += COLUMNS) {
    for (let i = 0; i < 3; i++) {
      gyr[i] = trial[at + 1 + i]!;
      acc[i] = trial[at + 4 + i]!;
    }
    const q = stepFilter(filter, gyr, acc, 1 / RATE_HZ, true);
    const reference = trial.subarray(at + 10, at + 14) as Float64Array;
    if (trial[at + 17] !== 1 || Number.isNaN(reference[0])) continue;
    multiply(error, q, conjugate(error, reference));
    const angle = 2 * Math.acos(Math.min(1, Math.hypot(error[0]!, error[3]!)));
    squares += angle * angle;
    rows++;
  }
  return { rmseDeg: (Math.sqrt(squares / rows) * 180) / Math.PI, rows };
}

describe('open recordings with optical reference', () => {
  if (!available) {
    const message = `Open data not found in ${folder}: inclination against optical reference is not checked. Set REACH_FUNNEL_DATA to the folder that holds "broad".`;
    if (process.env.CI) {
      it('are there in CI', () => expect.fail(message));
    } else {
      console.info(message);
      it.skip(message, () => {});
    }
    return;
  }

  const found: Record<FilterMethod, number>[] = [];

  it.each(TRIALS)('inclination in $name is that of the reference implementation', (trial) => {
    const numbers = readTrial(trial.name);
    const rmse: Record<FilterMethod, number> = { vqf: 0, madgwick: 0, mahony: 0 };
    for (const method of METHODS) {
      const { rmseDeg, rows } = inclinationRmse(numbers, method);
      expect(rows).toBe(trial.rows); // counted with numpy: movement and a reference
      rmse[method] = rmseDeg;
    }
    found.push(rmse);
    const figures = METHODS.map((method) => `${method} ${rmse[method].toFixed(4)}`).join(', ');
    console.info(
      `${trial.name}: inclination RMSE in degrees: ${figures} (reference ${trial.referenceDeg})`,
    );
    // Design goal: not worse by more than 5 %. Much better would mean another metric: both sides are bounded.
    expect(Math.abs(rmse.vqf / trial.referenceDeg - 1)).toBeLessThan(0.05);
    expect(rmse.vqf).toBeLessThan(rmse.madgwick);
  });

  it('inclination is better than that of both ahrs filters over the three trials', () => {
    // Not on each: on 08 Mahony, with gains tuned on this very data set, is better than the reference itself.
    expect(found.length).toBe(TRIALS.length);
    const mean = (method: FilterMethod) =>
      Math.hypot(...found.map((rmse) => rmse[method])) / Math.sqrt(found.length);
    expect(mean('vqf')).toBeLessThan(mean('madgwick'));
    expect(mean('vqf')).toBeLessThan(mean('mahony'));
    for (const trial of [0, 2]) expect(found[trial]!.vqf).toBeLessThan(found[trial]!.mahony);
  });
});
