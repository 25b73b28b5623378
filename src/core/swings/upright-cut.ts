import { ARM_ROW } from '../arm/arm-timeline.ts';
import { GYRO_ERRORS, removeGyroTilt } from '../arm/gyro-tilt.ts';
import { fromRotationVector, multiply, quaternion } from '../maths/quaternion.ts';
import type { SwingCut } from './swing-cut.ts';

const qTilt = quaternion();

/**
 * A cut with the tilt taken off that the gyroscopes' scale and cross-axis errors made in it.
 * @param gyroErrors error matrices of upper arm, forearm, implement (src/core/arm/gyro-evidence.ts), shape (27)
 * @returns a new cut; `cut` is left as it is
 * Source: own, see src/core/arm/gyro-tilt.ts.
 * Checked: tests/arm/gyro-tilt.test.ts; what it is worth: `npm run accuracy`, live against review.
 */
export function uprightCut(cut: SwingCut, gyroErrors: Float64Array): SwingCut {
  const q = Float64Array.from(cut.q);
  const last = cut.q.length / ARM_ROW - 1;
  for (const k of [0, 1, 2] as const) {
    const tilt = Float64Array.from(cut.gyroTilts[k]);
    const errors = gyroErrors.subarray(GYRO_ERRORS * k, GYRO_ERRORS * (k + 1));
    for (let row = last; row >= 0; row--) {
      const at = ARM_ROW * row + 4 * k;
      fromRotationVector(qTilt, -sumOf(tilt, 0, errors), -sumOf(tilt, GYRO_ERRORS, errors), 0);
      const oriented = q.subarray(at, at + 4);
      multiply(oriented, qTilt, oriented);
      // from the rows as they were filtered, not as corrected
      if (row > 0) removeGyroTilt(tilt, cut.q, at - ARM_ROW, at);
    }
  }
  return { ...cut, q };
}

function sumOf(tilt: Float64Array, from: number, errors: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < GYRO_ERRORS; i++) sum += tilt[from + i]! * errors[i]!;
  return sum;
}
