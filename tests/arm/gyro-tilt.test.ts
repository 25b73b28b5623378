import { expect, test } from 'vitest';
import { ARM_ROW, GRID_STEP_US } from '../../src/core/arm/arm-timeline.ts';
import {
  addGyroTilt,
  createGyroTilt,
  GYRO_ERRORS,
  removeGyroTilt,
} from '../../src/core/arm/gyro-tilt.ts';
import {
  conjugate,
  fromRotationVector,
  multiply,
  quaternion,
  rotate,
  toRotationVector,
} from '../../src/core/maths/quaternion.ts';
import { vector3 } from '../../src/core/maths/vector.ts';
import { createFilter, stepFilter } from '../../src/core/orientation/filter.ts';
import { uprightCut } from '../../src/core/swings/upright-cut.ts';

const STEP_S = GRID_STEP_US * 1e-6;
/** Scale and cross-axis errors of a percent or two, row-major. */
const ERRORS = [0.008, 0.02, 0.015, -0.012, -0.006, 0.009, 0.02, 0.013, 0.014];

/** A stroke of a third of a second about a wandering axis, some 200 degrees: true rate, rad/s, sensor frame. */
function rateAt(timeS: number): [number, number, number] {
  const speed = 16 * Math.sin((Math.PI * Math.min(1, timeS / 0.33)) / 2);
  return [speed * 0.5 * Math.cos(4 * timeS), speed * 0.6, speed * 0.7 * Math.sin(3 * timeS + 0.5)];
}

const faulty = (w: readonly number[]) =>
  [0, 1, 2].map((i) => w[i]! + [0, 1, 2].reduce((sum, j) => sum + ERRORS[3 * i + j]! * w[j]!, 0));

/** Turned on by the true rates and by the faulty ones, columns of qEarthFromSensor, ten steps an instant. */
function integrate(rows: number): { truth: Float64Array; measured: Float64Array } {
  const turn = quaternion();
  const walk = (rate: (timeS: number) => readonly number[]) => {
    const q = Float64Array.of(0.9, 0.1, -0.3, 0.3);
    const columns = new Float64Array(4 * rows);
    for (let n = 0; n < rows; n++) {
      columns.set(q, 4 * n);
      for (let k = 0; k < 10; k++) {
        const [x, y, z] = rate((n + (k + 0.5) / 10) * STEP_S) as [number, number, number];
        const h = STEP_S / 10;
        multiply(q, q, fromRotationVector(turn, x * h, y * h, z * h));
      }
    }
    return columns;
  };
  return { truth: walk(rateAt), measured: walk((timeS) => faulty(rateAt(timeS))) };
}

const ROWS = 66;

function tiltThrough(q: Float64Array): ReturnType<typeof createGyroTilt> {
  const tilt = createGyroTilt();
  for (let n = 1; n < ROWS; n++) addGyroTilt(tilt, q, 4 * (n - 1), 4 * n);
  return tilt;
}

const horizontal = (tilt: Float64Array) =>
  [0, 1].map((r) => ERRORS.reduce((sum, e, i) => sum + e * tilt[GYRO_ERRORS * r + i]!, 0));

/** Rotation vector, earth frame, from the true to the measured orientation at the end. */
function errorAt(row: number, truth: Float64Array, measured: Float64Array): number[] {
  const q = (columns: Float64Array) => columns.slice(4 * row, 4 * row + 4);
  const off = multiply(quaternion(), q(measured), conjugate(quaternion(), q(truth)));
  return Array.from(toRotationVector(vector3(), off));
}

// No outside reference: the same motion is integrated in small steps with true and with faulty rates.
test('tells the tilt that faulty rates leave, to a tenth of it', () => {
  const { truth, measured } = integrate(ROWS);
  const error = errorAt(ROWS - 1, truth, measured);
  const told = horizontal(tiltThrough(measured));
  const size = Math.hypot(error[0]!, error[1]!);
  expect(size).toBeGreaterThan(0.02);
  expect(Math.hypot(told[0]! - error[0]!, told[1]! - error[1]!)).toBeLessThan(0.1 * size);
});

test('going back undoes going on', () => {
  const { measured } = integrate(ROWS);
  const tilt = tiltThrough(measured);
  for (let n = ROWS - 1; n > 0; n--) removeGyroTilt(tilt, measured, 4 * (n - 1), 4 * n);
  for (const part of tilt) expect(Math.abs(part)).toBeLessThan(1e-12);
});

test('a few instants at once, where the sensor turns slowly, say what one by one say', () => {
  // 2 rad/s about an axis that itself goes round in the sensor
  const q = new Float64Array(4 * 81);
  const [now, turn] = [quaternion(), quaternion()];
  for (let n = 0; n <= 80; n++) {
    q.set(now, 4 * n);
    const [x, y] = [2 * STEP_S * Math.cos(0.03 * n), 2 * STEP_S * Math.sin(0.03 * n)];
    multiply(now, now, fromRotationVector(turn, x, y, 0));
  }
  const [each, fourth] = [createGyroTilt(), createGyroTilt()];
  for (let n = 1; n <= 80; n++) addGyroTilt(each, q, 4 * (n - 1), 4 * n);
  for (let n = 4; n <= 80; n += 4) addGyroTilt(fourth, q, 4 * (n - 4), 4 * n, 4);
  const size = Math.max(...each.map(Math.abs));
  expect(size).toBeGreaterThan(0.25);
  each.forEach((part, i) => {
    expect(Math.abs(fourth[i]! - part)).toBeLessThan(0.02 * size);
  });
});

test('fades as the filter takes a tilt back at rest', () => {
  const { truth, measured } = integrate(ROWS);
  const filter = createFilter('vqf', STEP_S);
  const up = vector3();
  const qEnd = quaternion();
  const step = (rate: readonly number[], q: Float64Array) => {
    const gyr = Float64Array.from(rate);
    // a sensor turned on the spot: it feels gravity alone, as the true orientation has it
    const acc = rotate(up, conjugate(quaternion(), q), vector3(0, 0, 9.81));
    qEnd.set(stepFilter(filter, gyr, acc, STEP_S, true));
  };
  const first = truth.slice(0, 4);
  const last = truth.slice(4 * (ROWS - 1));
  const leanOf = () => {
    const vertical = rotate(vector3(), conjugate(quaternion(), last), vector3(0, 0, 1));
    return Math.acos(Math.min(1, rotate(vector3(), qEnd, vertical)[2]!));
  };
  for (let n = 0; n < 400; n++) step([0, 0, 0], first);
  for (let n = 1; n < ROWS; n++) {
    step(faulty(rateAt((n - 0.5) * STEP_S)), truth.slice(4 * n, 4 * n + 4));
  }
  const before = leanOf();
  const tilt = tiltThrough(measured);
  const told = Math.hypot(...horizontal(tilt));
  const still = Float64Array.from([...last, ...last]);
  for (let n = 0; n < 600; n++) {
    step([0, 0, 0], last);
    addGyroTilt(tilt, still, 0, 4);
  }
  const kept = leanOf() / before;
  const toldKept = Math.hypot(...horizontal(tilt)) / told;
  // the filter takes a tilt back by a second-order average, ours evenly: near each other, not the same
  expect(Math.abs(kept - toldKept)).toBeLessThan(0.3);
  expect(toldKept).toBeCloseTo(Math.exp(-1), 2);
});

test('a cut is brought upright row by row, and the one it came from is left as it is', () => {
  const { truth, measured } = integrate(ROWS);
  const q = new Float64Array(ARM_ROW * ROWS);
  for (let n = 0; n < ROWS; n++) {
    for (let k = 0; k < 3; k++) q.set(measured.subarray(4 * n, 4 * n + 4), ARM_ROW * n + 4 * k);
  }
  const tilt = tiltThrough(measured);
  const cut = {
    contact: { timeUs: 0, standardErrorUs: 0 },
    fault: null,
    startUs: 0,
    firstUs: 0,
    q,
    gyroTilts: [tilt, tilt, tilt] as const,
    peakImplementRateRadS: 0,
    contactImplementRateRadS: 0,
    clippedSamples: 0,
    interpolatedSamples: 0,
  };
  const untouched = Float64Array.from(q);
  const corrected = uprightCut(cut, Float64Array.from([...ERRORS, ...ERRORS, ...ERRORS]));
  expect(cut.q).toEqual(untouched);
  for (const row of [20, 40, ROWS - 1]) {
    for (let k = 0; k < 3; k++) {
      const columns = Float64Array.from({ length: 4 * ROWS }, (_, i) => {
        return corrected.q[ARM_ROW * Math.floor(i / 4) + 4 * k + (i % 4)]!;
      });
      const before = errorAt(row, truth, measured);
      const after = errorAt(row, truth, columns);
      const size = (e: readonly number[]) => Math.hypot(e[0]!, e[1]!);
      expect(size(after)).toBeLessThan(0.12 * size(before) + 0.0005);
    }
  }
});
