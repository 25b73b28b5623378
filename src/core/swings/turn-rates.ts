import { ARM_ROW, GRID_STEP_US } from '../arm/arm-timeline.ts';
import { quaternionAngle } from '../maths/quaternion.ts';
import type { SwingCut } from './swing-cut.ts';

/**
 * How fast each sensor turns through a swing: the angle between the orientations before and after an instant over the
 * time between them, at the ends of the cut to the one neighbour there is.
 * @param cut of at least two rows @returns upper arm, forearm, implement, rad/s, each of shape (rows)
 * Source: definition of mean angular speed.  Checked: tests/swings/turn-rates.test.ts
 */
export function turnRates({ q }: Pick<SwingCut, 'q'>): Float64Array[] {
  const rows = q.length / ARM_ROW;
  const at = (row: number, sensor: number) => {
    const first = ARM_ROW * row + 4 * sensor;
    return q.subarray(first, first + 4);
  };
  return [0, 1, 2].map((sensor) =>
    Float64Array.from({ length: rows }, (_, row) => {
      const before = Math.max(0, row - 1);
      const after = Math.min(rows - 1, row + 1);
      const angle = quaternionAngle(at(before, sensor), at(after, sensor));
      return angle / ((after - before) * GRID_STEP_US * 1e-6);
    }),
  );
}
