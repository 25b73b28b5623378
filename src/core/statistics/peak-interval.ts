import { seededRandom } from '../maths/random.ts';
import { type BootstrapOptions, quantileOfSorted } from './bootstrap-interval.ts';
import { CONFIDENCE, checkLevel, dataFault, type Estimate, type Unavailable } from './estimate.ts';
import { type LocalWeightsOptions, localWeights } from './local-weights.ts';

const RESAMPLES = 2000;
/** A point this close to its own fitted value says nothing about the noise. */
const MOST_LEVERAGE = 0.95;

/**
 * Place of the highest point of a local regression of y on x, with a percentile interval by the wild bootstrap:
 * residuals, freed of their leverage, keep their place and get a random sign, so that noise may differ along
 * the curve and need not be normal.
 * @param x, y rows of two columns @param grid places among which the highest is sought, rising
 * @returns 'collinear' when a neighbourhood has too few different x
 * Source: Wu 1986, doi 10.1214/aos/1176350142; Davidson & Flachaire 2008, doi 10.1016/j.jeconom.2008.08.003 for
 *   the random signs (both from memory).
 * Checked: tests/statistics/peak-interval.test.ts; coverage in tests/measures/sweet-spot-operating.test.ts
 */
export function peakInterval(
  x: ArrayLike<number>,
  y: ArrayLike<number>,
  grid: Float64Array,
  smoothing: LocalWeightsOptions,
  { seed, resamples = RESAMPLES, level = CONFIDENCE }: BootstrapOptions,
): Estimate | Unavailable {
  checkLevel(level);
  const fault = dataFault(smoothing.degree + 1, x, y);
  if (fault) return fault;
  const n = x.length;
  const own = localWeights(x, x, smoothing);
  const weights = localWeights(x, grid, smoothing);
  if (!own || !weights) return { reason: 'collinear' };
  const fitted = times(own, y, new Float64Array(n));
  const residual = fitted.map((fit, i) => {
    const leverage = Math.min(MOST_LEVERAGE, own[i * n + i]!);
    return (y[i]! - fit) / (1 - leverage);
  });
  const curve = new Float64Array(grid.length);
  const peakOf = (scores: ArrayLike<number>) => grid[highest(times(weights, scores, curve))]!;
  const value = peakOf(y);
  const random = seededRandom(seed);
  const drawn = new Float64Array(n);
  const peaks = new Float64Array(resamples);
  for (let r = 0; r < resamples; r++) {
    for (let i = 0; i < n; i++)
      drawn[i] = fitted[i]! + (random.uniform(-1, 1) < 0 ? -residual[i]! : residual[i]!);
    peaks[r] = peakOf(drawn);
  }
  peaks.sort();
  const end = (p: number) => quantileOfSorted(peaks, p);
  return {
    value,
    low: Math.min(value, end((1 - level) / 2)),
    high: Math.max(value, end((1 + level) / 2)),
    level,
    n,
  };
}

/** Index of the largest; the first of equals. */
export function highest(values: ArrayLike<number>): number {
  let best = 0;
  for (let i = 1; i < values.length; i++) if (values[i]! > values[best]!) best = i;
  return best;
}

/** Matrix, shape (out.length, n), times a column. */
export function times(
  matrix: Float64Array,
  column: ArrayLike<number>,
  out: Float64Array,
): Float64Array {
  const n = column.length;
  for (let row = 0; row < out.length; row++) {
    let sum = 0;
    for (let i = 0; i < n; i++) sum += matrix[row * n + i]! * column[i]!;
    out[row] = sum;
  }
  return out;
}
