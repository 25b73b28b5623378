import type { LeastSquaresProblem } from '../maths/levenberg-marquardt.ts';
import type { Rest } from './rests.ts';
import { fitSettingAside, type RobustFit } from './robust-fit.ts';

/**
 * Parameters in order: the six elements on and above the diagonal of the matrix, row by row, then the bias.
 */
export const ACCEL_PARAMETERS = 9;
/** Where the upper triangle lies in the row-major matrix. */
export const UPPER = [0, 1, 2, 4, 5, 8] as const;
const PERFECT = [1, 0, 0, 1, 0, 1, 0, 0, 0];

/**
 * Accelerometer calibration from rests: |U (f - b)| = g in every orientation, U upper triangular.
 * One rest more than there are parameters at least.
 * @param gravityMS2 local gravity
 * Source: Tedaldi, Pretto & Menegatti 2014, doi 10.1109/ICRA.2014.6907297: its T K is U here, element for
 * element as good a parametrisation; its g^2 - |.|^2 is g - |.| here, so that misfits are accelerations.
 */
export function fitAccelerometer(rests: readonly Rest[], gravityMS2: number): RobustFit<Rest> {
  return fitSettingAside(
    rests,
    { rows: 1, independent: 1 },
    (kept) => magnitudeProblem(kept, gravityMS2),
    PERFECT,
  );
}

function magnitudeProblem(rests: readonly Rest[], gravityMS2: number): LeastSquaresProblem {
  return {
    residualCount: rests.length,
    evaluate(p, residuals, jacobian) {
      rests.forEach(({ force }, k) => {
        const x = force[0]! - p[6]!;
        const y = force[1]! - p[7]!;
        const z = force[2]! - p[8]!;
        const hx = p[0]! * x + p[1]! * y + p[2]! * z;
        const hy = p[3]! * y + p[4]! * z;
        const hz = p[5]! * z;
        const magnitude = Math.hypot(hx, hy, hz);
        residuals[k] = magnitude - gravityMS2;
        const ux = hx / magnitude;
        const uy = hy / magnitude;
        const uz = hz / magnitude;
        const row = jacobian.subarray(ACCEL_PARAMETERS * k, ACCEL_PARAMETERS * (k + 1));
        row[0] = ux * x;
        row[1] = ux * y;
        row[2] = ux * z;
        row[3] = uy * y;
        row[4] = uy * z;
        row[5] = uz * z;
        row[6] = -p[0]! * ux;
        row[7] = -p[1]! * ux - p[3]! * uy;
        row[8] = -p[2]! * ux - p[4]! * uy - p[5]! * uz;
      });
    },
  };
}
