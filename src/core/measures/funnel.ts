import { SWING_POINTS, type SwingCurves } from '../swings/swing.ts';

/** The funnel: across-swing spread of reach over normalised swing time. */
export interface Funnel {
  /** Swings that entered. */
  readonly n: number;
  /** Sample SD (n-1) of reach in metres at 0..100 % of the swing, shape (101); NaN below two swings. */
  readonly spreadM: Float64Array;
  /** Mean reach, metres, shape (101). */
  readonly meanM: Float64Array;
  /** Measurement floor: root mean square of the swings' noise, metres, shape (101). */
  readonly floorM: Float64Array;
}

/**
 * Across-swing spread of reach, `s(tau) = SD_n r_n(tau)`.
 * @param swings those with a reach
 * @returns columns over normalised swing time; `n` counts the swings used
 * Source: definition, design.md section 9; two-pass variance (Chan, Golub & LeVeque 1983).
 * Checked: tests/measures/funnel.test.ts
 */
export function summariseFunnel(swings: readonly ReachCurve[]): Funnel {
  return funnelOfCurves(swings, SWING_POINTS);
}

/** Reach of one swing at the instants of its set, metres, with its noise from swing to swing (1 SD). */
export type ReachCurve = Pick<SwingCurves, 'reachCurveM' | 'reachCurveNoiseM'>;

/**
 * The funnel of curves on any common instants.
 * @param curves all of shape (points)
 * Source: as summariseFunnel.  Checked: tests/measures/funnel.test.ts
 */
export function funnelOfCurves(curves: readonly ReachCurve[], points: number): Funnel {
  const n = curves.length;
  const spreadM = new Float64Array(points).fill(Number.NaN);
  const meanM = new Float64Array(points).fill(Number.NaN);
  const floorM = new Float64Array(points).fill(Number.NaN);
  for (let point = 0; point < points && n > 0; point++) {
    let sum = 0;
    let errorSquares = 0;
    for (const curve of curves) {
      sum += curve.reachCurveM[point]!;
      errorSquares += curve.reachCurveNoiseM[point]! ** 2;
    }
    const mean = sum / n;
    let squares = 0;
    let residue = 0;
    for (const curve of curves) {
      const deviation = curve.reachCurveM[point]! - mean;
      squares += deviation * deviation;
      residue += deviation;
    }
    meanM[point] = mean;
    floorM[point] = Math.sqrt(errorSquares / n);
    if (n > 1) spreadM[point] = Math.sqrt((squares - (residue * residue) / n) / (n - 1));
  }
  return { n, spreadM, meanM, floorM };
}
