/** How late one signal is against another that should be the same. */
export interface Lag {
  /** Steps by which `b` is later than `a`; fractions by a parabola through the best three. */
  readonly steps: number;
  /** Correlation at that lag, -1..1: how alike they are. */
  readonly likeness: number;
}

/** Variation below this share of the mean square is rounding. */
const FLAT = 1e-20;

/**
 * Lag of greatest correlation between two equally sampled signals.
 * @param a, b same length @param most largest lag looked at, steps, at least 1
 * @returns null when the best is at the edge, or when a signal does not vary
 * @throws RangeError when the signals are too short or differ in length
 * Source: cross-correlation with parabolic interpolation of the peak, Knapp & Carter 1976,
 * doi 10.1109/TASSP.1976.1162830; Boucher & Hassab 1981, doi 10.1109/TASSP.1981.1163623.
 */
export function estimateLag(a: Float64Array, b: Float64Array, most: number): Lag | null {
  if (a.length !== b.length || a.length < 4 * most + 4) {
    throw new RangeError(
      `estimateLag: ${a.length} and ${b.length} values are too few for lags of ${most}, or differ`,
    );
  }
  let best = 0;
  let likeness = Number.NEGATIVE_INFINITY;
  for (let lag = -most; lag <= most; lag++) {
    const r = correlation(a, b, lag, most);
    if (Number.isNaN(r)) return null;
    if (r > likeness) {
      likeness = r;
      best = lag;
    }
  }
  if (Math.abs(best) === most) return null;
  const before = correlation(a, b, best - 1, most);
  const after = correlation(a, b, best + 1, most);
  const bend = before - 2 * likeness + after;
  return { steps: best + (bend < 0 ? (before - after) / (2 * bend) : 0), likeness };
}

/** Correlation of a(t) with b(t + lag), over the same stretch of `a` for every lag. */
function correlation(a: Float64Array, b: Float64Array, lag: number, most: number): number {
  const n = a.length - 2 * most;
  let sumA = 0;
  let sumB = 0;
  for (let i = most; i < most + n; i++) {
    sumA += a[i]!;
    sumB += b[i + lag]!;
  }
  let aa = 0;
  let bb = 0;
  let ab = 0;
  for (let i = most; i < most + n; i++) {
    const x = a[i]! - sumA / n;
    const y = b[i + lag]! - sumB / n;
    aa += x * x;
    bb += y * y;
    ab += x * y;
  }
  // below rounding a signal does not vary
  const varies = aa > FLAT * sumA * sumA && bb > FLAT * sumB * sumB;
  return varies ? ab / Math.sqrt(aa * bb) : Number.NaN;
}
