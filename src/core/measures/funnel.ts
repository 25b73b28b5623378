import { SWING_POINTS, type Swing } from '../swings/swing.ts';

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
 * @param swings swings with a reach; void ones are left out
 * @returns columns over normalised swing time; `n` counts the swings used
 * Source: definition, design.md section 9; two-pass variance (Chan, Golub & LeVeque 1983).
 */
export function summariseFunnel(swings: readonly Swing[]): Funnel {
  const used = swings.filter((swing) => swing.voidReason === null);
  const n = used.length;
  const spreadM = new Float64Array(SWING_POINTS).fill(Number.NaN);
  const meanM = new Float64Array(SWING_POINTS).fill(Number.NaN);
  const floorM = new Float64Array(SWING_POINTS).fill(Number.NaN);
  for (let point = 0; point < SWING_POINTS && n > 0; point++) {
    let sum = 0;
    let errorSquares = 0;
    for (const swing of used) {
      sum += swing.reachCurveM[point]!;
      errorSquares += swing.reachCurveNoiseM[point]! ** 2;
    }
    const mean = sum / n;
    let squares = 0;
    let residue = 0;
    for (const swing of used) {
      const deviation = swing.reachCurveM[point]! - mean;
      squares += deviation * deviation;
      residue += deviation;
    }
    meanM[point] = mean;
    floorM[point] = Math.sqrt(errorSquares / n);
    if (n > 1) spreadM[point] = Math.sqrt((squares - (residue * residue) / n) / (n - 1));
  }
  return { n, spreadM, meanM, floorM };
}
